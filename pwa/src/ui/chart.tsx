/** Small drawings of a chance and of an interval; the figures stand beside them in words. */
import type { JSX } from "preact";
import { plainNumber } from "../model/format";
import { t } from "../texts";

export function ChanceBar({ share, unlisted }: { share: number; unlisted?: boolean }): JSX.Element {
  const width = Math.max(0, Math.min(100, share * 100));
  return (
    <svg class={unlisted ? "bar unlisted" : "bar"} viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      {unlisted && (
        <pattern id="hatch" width="5" height="10" patternUnits="userSpaceOnUse"><path class="hatch-line" d="M1 0V10" /></pattern>
      )}
      <rect width={width} height="10" />
    </svg>
  );
}

interface IntervalProps {
  low: number;
  ratio: number;
  high: number;
}

const LEFT = 12;
const RIGHT = 288;

/** Place of a ratio on a doubling scale between a quarter and sixteen times. */
export function placeOf(ratio: number): number {
  const step = (Math.log2(Math.max(0.25, Math.min(16, ratio))) + 2) / 6;
  return LEFT + step * (RIGHT - LEFT);
}

export function IntervalChart({ low, ratio, high }: IntervalProps): JSX.Element {
  const spoken = t().ui.timesExpectedBetweenAnd(plainNumber(ratio, undefined, 2), plainNumber(low, undefined, 2), plainNumber(high, undefined, 2));
  return (
    <svg class="span" viewBox="0 0 300 38" role="img" aria-label={spoken}>
      <path class="axis" d={`M${LEFT} 22H${RIGHT}`} />
      <path class="one" d={`M${placeOf(1)} 2V26`} />
      <path class="reach" d={`M${placeOf(low)} 12H${placeOf(high)}`} />
      <circle cx={placeOf(ratio)} cy="12" r="6" />
      {[0.25, 1, 4, 16].map((each) => (
        <text key={each} x={placeOf(each)} y="36" text-anchor="middle">{each === 0.25 ? "¼×" : `${each}×`}</text>
      ))}
    </svg>
  );
}
