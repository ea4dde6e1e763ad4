/** A row month by month: bars seen, a line expected, and the span in which its rate likely changed. */
import type { JSX } from "preact";

import type { Timeline } from "../wire";
import { LEFT, RIGHT, WIDE, across, line, span, up } from "./failing-draw";
import { FailingTable } from "./failing-table";
import { t } from "../texts";

const TALL = 140;

export function FailingMonths({ timeline }: { timeline: Timeline }): JSX.Element {
  const { months, row, says } = timeline;
  const most = Math.max(1, ...months.map((each) => Math.max(each.observed, each.expected)));
  const x = (at: number): number => across(at + 0.5, 0, Math.max(1, months.length));
  const floor = up(0, most, TALL);
  const wide = Math.max(1, ((RIGHT - LEFT) / Math.max(1, months.length)) * 0.7);
  const likely = row.since ? span(months.map((each) => each.changed)) : null;
  return (
    <figure>
      <figcaption>{says}</figcaption>
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} width="100%" role="img" aria-label={says}>
        {likely && <rect x={x(likely[0])} y="4" width={Math.max(2, x(likely[1] + 1) - x(likely[0]))} height={floor - 4} fill="var(--ink)" opacity="0.14" />}
        {months.map((each, at) => <rect key={each.month} x={x(at) - wide / 2} y={up(each.observed, most, TALL)} width={wide} height={floor - up(each.observed, most, TALL)} fill="var(--carbon)" />)}
        <path d={line(months.map((each, at) => [x(at), up(each.expected, most, TALL)]))} fill="none" stroke="var(--ink)" stroke-width="2" stroke-dasharray="4 3" />
        <path d={`M${LEFT} ${floor}H${RIGHT}`} stroke="var(--ink)" />
        <text x={LEFT} y={TALL - 4} font-size="11" fill="var(--ink)">{months[0]?.month}</text>
        <text x={RIGHT} y={TALL - 4} font-size="11" fill="var(--ink)" text-anchor="end">{months[months.length - 1]?.month}</text>
        <text x={LEFT} y="12" font-size="11" fill="var(--ink)">{t().failingDrawn.aMonth(Math.ceil(most))}</text>
      </svg>
      <p class="small">{t().failingDrawn.barsSeen}{likely ? t().failingDrawn.greyChanged : ""}</p>
      <FailingTable of="months" heads={["month", "seen", "expected", "chanceOfAChange"]} rows={months.map((each) => [each.month, each.observed, each.expected, each.changed])} />
    </figure>
  );
}
