/** Where things stand in the drawings of what keeps failing: pure places and paths, no elements. */

export const WIDE = 320;
export const LEFT = 8;
export const RIGHT = WIDE - 8;

/** A place from left to right for a value between two ends; values beyond stay at the ends. */
export function across(value: number, low: number, high: number): number {
  const share = high > low ? (value - low) / (high - low) : 0;
  return LEFT + Math.max(0, Math.min(1, share)) * (RIGHT - LEFT);
}

/** A place from bottom to top of a drawing that is `tall`, with room for a line of words below. */
export function up(value: number, most: number, tall: number): number {
  const room = tall - 22;
  return 6 + room - (most > 0 ? Math.max(0, Math.min(1, value / most)) : 0) * (room - 6);
}

const point = (x: number, y: number): string => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** A line through points. */
export function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], at) => `${at ? "L" : "M"}${point(x, y)}`).join("");
}

/** Stairs: flat to the next place, then down. */
export function stairs(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], at) => (at ? `H${x.toFixed(1)}V${y.toFixed(1)}` : `M${point(x, y)}`)).join("");
}

/** The area between an upper and a lower stair. */
export function band(upper: readonly (readonly [number, number])[], lower: readonly (readonly [number, number])[]): string {
  const back = [...lower].reverse();
  const under = back.map(([x, y], at) => (at ? `V${y.toFixed(1)}H${x.toFixed(1)}` : `L${point(x, y)}`)).join("");
  return upper.length ? `${stairs(upper)}${under}Z` : "";
}

/** First and last place whose chances hold nine tenths together, the tails even; null without any. */
export function span(chances: readonly number[]): readonly [number, number] | null {
  const whole = chances.reduce((sum, each) => sum + each, 0);
  if (whole <= 0) return null;
  let sum = 0;
  let first = -1;
  let last = chances.length - 1;
  for (const [at, each] of chances.entries()) {
    sum += each / whole;
    if (first < 0 && sum >= 0.05) first = at;
    if (sum >= 0.95) {
      last = at;
      break;
    }
  }
  return [Math.max(0, first), last];
}

/** The sides of a map: what stands in rows and in columns, the loudest first, no more than fit. */
export function sides<T>(rows: readonly T[], of: (row: T) => readonly [string, string] | null, most: number): readonly [readonly string[], readonly string[]] {
  const pairs = rows.map(of).filter((each) => each !== null);
  const first = [...new Set(pairs.map(([row]) => row))].slice(0, most);
  const second = [...new Set(pairs.filter(([row]) => first.includes(row)).map(([, column]) => column))].slice(0, most);
  return [first, second];
}

/** Those of a row from left to right, the last among them, that stand at least so far apart. */
export function spread<T>(row: readonly T[], place: (one: T) => number, apart: number): readonly T[] {
  return row.reduceRight<readonly T[]>((kept, one) => (kept[0] === undefined || place(kept[0]) - place(one) >= apart ? [one, ...kept] : kept), []);
}
