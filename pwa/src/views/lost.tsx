/** The browser has thrown away what this phone kept: said plainly, with what may be missing. */
import type { JSX } from "preact";

import type { Held } from "../model/held";
import { Notice } from "../ui/notice";

export function Lost({ member, unsent }: Held): JSX.Element {
  const missing = unsent === 0 ? "Everything had been sent: nothing is missing." : `${unsent} ${unsent === 1 ? "step had" : "steps had"} not been sent. Write them down again from memory, now.`;
  return (
    <Notice kind={unsent === 0 ? "warn" : "bad"} title="This browser has cleared what was kept on this phone">
      <p>{missing} Sign in again, {member}: the cases come back by themselves. On the home screen the notes are kept.</p>
    </Notice>
  );
}
