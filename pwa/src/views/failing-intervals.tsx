/** The surest rows under one another on one scale, each with its interval. */
import type { JSX } from "preact";

import { IntervalChart } from "../ui/chart";
import type { Recurrence } from "../wire";
import { FailingTable } from "./failing-table";
import { t } from "../texts";

const MOST = 10;

export function FailingIntervals({ rows }: { rows: readonly Recurrence[] }): JSX.Element | null {
  const known = rows.filter((row) => row.ratio !== null && row.low !== null && row.high !== null).slice(0, MOST);
  if (known.length === 0) return null;
  const clear = known.filter((row) => (row.low ?? 0) > 1).length;
  return (
    <figure>
      <figcaption>{t().failingDrawn.howManyTimes(clear, known.length)}</figcaption>
      {known.map((row) => (
        <div key={row.title} class="interval">
          <p class="small">{row.title}</p>
          <IntervalChart low={row.low ?? 0} ratio={row.ratio ?? 0} high={row.high ?? 0} />
        </div>
      ))}
      <FailingTable of="intervals" heads={["row", "seen", "low", "times", "high", "falseShare"]} rows={known.map((row) => [row.title, row.observed, row.low, row.ratio, row.high, row.q])} />
    </figure>
  );
}
