/** Where there is no case to show: still being read, or truly not in this phone's copy. */
import type { JSX } from "preact";

import { phone } from "./app-state";
import { Busy, Empty } from "./ui/notice";
import { t } from "./texts";

export function Missing(): JSX.Element {
  const waiting = !phone.ready.value || phone.sync.value.busy;
  if (waiting) return <div class="place"><Busy>{t().app.openingTheCopyOnThis}</Busy></div>;
  return <div class="place"><Empty title={t().app.notInThisPhonesCopy}><p>{t().app.itMayBeDeletedOr}</p><a class="button" href="#/cases">{t().app.cases}</a></Empty></div>;
}
