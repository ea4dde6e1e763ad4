/** Above which chance a repair is done without more testing: worked out, never a rule of thumb. */

import { lookAhead } from "./ahead";
import type { Figure } from "./figures";
import { firstOf } from "./quick";
import type { Ground } from "./quick";

/** The chances with the repair's chance of cure moved there; the other causes keep theirs to one another. */
function moved({ on: { p, whose } }: Ground, repair: number, chance: number): Float64Array {
  const cured = p.reduce((sum, each, c) => sum + (whose[c] === repair ? each : 0), 0);
  if (cured <= 0 || cured >= 1) return p;
  return p.map((each, c) => (whose[c] === repair ? (chance * each) / cured : ((1 - chance) * each) / (1 - cured)));
}

/** Whether replacing first costs no more than any one test followed by repairs. */
function oneStep(ground: Ground, repair: number, chance: number): boolean {
  const { whose, repairs, tests, setup } = ground.on;
  const row = moved(ground, repair, chance);
  const rest = row.map((each, c) => (whose[c] === repair ? 0 : each));
  const most = repairs[repair]! + ground.ofRow(rest) + 1e-9;
  return [...tests.keys()].every((t) => !(ground.oneTest(row, t, tests[t]! + setup[0]![t]!, most) < most - 1e-9));
}

/** The chance of cure above which the repair comes before every test; null if never. */
export function replaceAbove(ground: Ground, repair: number, atLeast: number, figure: Figure): number | null {
  const finest = figure("line", "FINEST");
  const now = ground.on.p.reduce((sum, each, c) => sum + (ground.on.whose[c] === repair ? each : 0), 0);
  let [low, high] = [Math.max(now, atLeast), finest];
  if (low >= high || !oneStep(ground, repair, high)) return null;
  for (let n = figure("line", "HALVINGS"); n > 0; n -= 1) {
    const middle = (low + high) / 2;
    [low, high] = oneStep(ground, repair, middle) ? [low, middle] : [middle, high];
  }
  const holds = (line: number): boolean => {
    const [kind, index] = firstOf(lookAhead(ground, moved(ground, repair, line)).choice);
    return kind === "repair" && index === repair;
  };
  return [high, (high + finest) / 2, finest].find(holds) ?? null;
}
