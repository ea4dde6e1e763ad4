/** Where there is no case to show: still being read, or truly not in this phone's copy. */
import type { JSX } from "preact";

import { phone } from "./app-state";
import { Busy, Empty } from "./ui/notice";

export function Missing(): JSX.Element {
  const waiting = !phone.ready.value || phone.sync.value.busy;
  if (waiting) return <div class="place"><Busy>Opening the copy on this phone</Busy></div>;
  return <div class="place"><Empty title="Not in this phone's copy"><p>It may be deleted, or not fetched yet. Look again with signal.</p><a class="button" href="#/cases">Cases</a></Empty></div>;
}
