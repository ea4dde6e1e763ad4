/** What does not fit together, with the way out; and famous causes that results pushed down. */
import type { JSX } from "preact";

import { Fold } from "../ui/fold";
import { Notice } from "../ui/notice";
import { Shape } from "../ui/shape";
import type { Advice, Conflict, Dropped } from "../wire";
import { percent } from "./words";
import { t } from "../texts";

const ID = "does-not-fit";
const DROPPED_SHOWN = 2;

/** A sign above the next step, for what would be missed below it. */
export function DoubtSign({ conflicts }: { conflicts: readonly Conflict[] }): JSX.Element | null {
  if (conflicts.length === 0) return null;
  const show = (): void => document.getElementById(ID)?.scrollIntoView({ block: "center" });
  return (
    <button type="button" class="doubt" aria-label={t().doubt.doubtSomethingDoesNotFit} onClick={show}>
      <Shape name="alert" />
      {t().doubt.doubt}
    </button>
  );
}

function ConflictNotice({ row }: { row: Conflict }): JSX.Element {
  return <Notice kind="warn" title={row.text}>{row.remedy && <p>{row.remedy}</p>}</Notice>;
}

function DroppedLine({ row }: { row: Dropped }): JSX.Element {
  return (
    <p class="dropped"><Shape name="down" /><span><b>{row.title}</b> {t().doubt.fellFromTo(percent(row.before), percent(row.after))}{row.by && `: ${row.by}`}</span></p>
  );
}

export function Doubts({ advice }: { advice: Advice }): JSX.Element | null {
  const { conflicts, dropped } = advice;
  if (conflicts.length === 0 && dropped.length === 0) return null;
  return (
    <div class="stack" id={ID}>
      {conflicts.slice(0, 1).map((row) => <ConflictNotice key={row.text} row={row} />)}
      {conflicts.length > 1 && <Fold title={t().doubt.moreNotFitting(conflicts.length - 1)}>{conflicts.slice(1).map((row) => <ConflictNotice key={row.text} row={row} />)}</Fold>}
      {dropped.slice(0, DROPPED_SHOWN).map((row) => <DroppedLine key={row.cause} row={row} />)}
    </div>
  );
}
