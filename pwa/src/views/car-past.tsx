/** What this car was here for before, in one line; and what is still to do after a repair. */
import type { JSX } from "preact";

import { Notice } from "../ui/notice";
import type { Case, Trade } from "../wire";
import { day, headline, odometer, titleOf, within } from "./words";
import { t } from "../texts";

export function CarPast({ past, trade }: { past: readonly Case[]; trade: Trade }): JSX.Element | null {
  const [last] = past;
  if (!last) return null;
  const what = within(last.cause_title || titleOf(trade.causes, last.cause) || headline(last));
  return (
    <a class="carbon" href={`#/case/${last.id}`}>
      <span>{t().carPast.before(past.length)}. {t().carPast.last(day(last.closed ?? last.updated ?? last.opened), odometer(last.vehicle.odometer), what)}</span>
      <span class="strong">{t().carPast.open}</span>
    </a>
  );
}

export function Afterwards({ left }: { left: readonly string[] }): JSX.Element | null {
  return left.length > 0 ? <Notice kind="warn" title={t().afterwards.stillToDo(left.join(", "))}><p>{t().afterwards.makersWay}</p></Notice> : null;
}
