/** The browser has thrown away what this phone kept: said plainly, with what may be missing. */
import type { JSX } from "preact";

import type { Held } from "../model/held";
import { t } from "../texts";
import { Notice } from "../ui/notice";

export function Lost({ member, unsent }: Held): JSX.Element {
  const missing = unsent === 0 ? t().lost.allSent : t().lost.unsent(unsent);
  return (
    <Notice kind={unsent === 0 ? "warn" : "bad"} title={t().lost.title}>
      <p>{missing} {t().lost.signInAgain(member)}</p>
    </Notice>
  );
}
