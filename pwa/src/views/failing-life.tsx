/** How far a part runs: the share still alive by odometer with its band, and how many were at risk. */
import type { JSX } from "preact";

import { convert } from "../model/units";
import type { Life } from "../wire";
import { LEFT, RIGHT, WIDE, across, band, spread, stairs, up } from "./failing-draw";
import { FailingTable } from "./failing-table";
import { figure, percent } from "./words";
import { t } from "../texts";

const TALL = 160;
/** What a word below the line needs. */
const ROOM = 60;

export function FailingLife({ life, unit }: { life: Life; unit: string }): JSX.Element {
  const { steps, says } = life;
  const first = steps[0];
  const last = steps[steps.length - 1];
  if (!first || !last) return <p>{says}</p>;
  const inShops = (km: number): number => convert(km, "km", unit) ?? km;
  const x = (km: number): number => across(km, first.at * 0.95, last.at);
  const at = (share: number): number => up(share, 1, TALL);
  const word = (km: number): number => Math.max(LEFT + ROOM / 2, Math.min(RIGHT - ROOM / 2, x(km)));
  const begin: readonly [number, number] = [x(first.at * 0.95), at(1)];
  return (
    <figure>
      <figcaption>{says}</figcaption>
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} width="100%" role="img" aria-label={says}>
        <path d={band([begin, ...steps.map((each) => [x(each.at), at(each.high)] as const)], [begin, ...steps.map((each) => [x(each.at), at(each.low)] as const)])} fill="var(--ink)" opacity="0.14" />
        <path d={stairs([begin, ...steps.map((each) => [x(each.at), at(each.survival)] as const)])} fill="none" stroke="var(--carbon)" stroke-width="3" />
        <path d={`M${LEFT} ${at(0)}H${RIGHT}`} stroke="var(--ink)" />
        {spread(steps, (each) => word(each.at), ROOM).map((each) => <text key={each.at} x={word(each.at)} y={TALL - 4} font-size="11" fill="var(--ink)" text-anchor="middle">{`${figure(Math.round(inShops(each.at) / 1000))}: ${each.at_risk}`}</text>)}
        <path d={`M${LEFT} ${at(1)}H${RIGHT}M${LEFT} ${at(0.5)}H${RIGHT}`} stroke="var(--ink)" stroke-width="0.7" stroke-dasharray="2 4" />
        <text x={RIGHT} y={at(1) + 12} font-size="11" fill="var(--ink)" text-anchor="end">{t().failingDrawn.allAlive}</text>
        <text x={LEFT} y={at(0.5) + 12} font-size="11" fill="var(--ink)">{percent(0.5)}</text>
      </svg>
      <p class="small">{t().failingDrawn.belowTheLine(unit)}</p>
      <FailingTable of="life" heads={[["odometer", unit], "atRisk", "failed", "alive", "low", "high"]} rows={steps.map((each) => [Math.round(inShops(each.at)), each.at_risk, each.failed, each.survival, each.low, each.high])} />
    </figure>
  );
}
