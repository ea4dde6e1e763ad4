/** What the copy's closed cases add up to: causes, outcomes by cause, labour, minutes and prices. */

import type { Case, TestBody } from "../wire";
import type { Figure } from "./figures";

export interface Sum {
  weight: number;
  total: number;
}

export interface Tally {
  /** System -> cause -> weight. */
  readonly causes: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Test -> cause -> outcome -> weight. */
  readonly outcomes: ReadonlyMap<string, ReadonlyMap<string, ReadonlyMap<string, number>>>;
  readonly labour: ReadonlyMap<string, Sum>;
  readonly minutes: ReadonlyMap<string, Sum>;
  readonly prices: ReadonlyMap<string, Sum>;
}

/** How much the cure of a closed case counts: a verified one that did not come back in full. */
export const cureWeight = (file: Pick<Case, "verified" | "returned_as">, figure: Figure): number =>
  figure("tally", file.verified && !file.returned_as.length ? "VERIFIED" : "UNVERIFIED");

/** Each test once, as last done, in the order of the last doings. */
export function laterTests<T extends Pick<TestBody, "test">>(tests: readonly T[]): readonly T[] {
  const latest = new Map<string, T>();
  for (const done of tests) {
    latest.delete(done.test);
    latest.set(done.test, done);
  }
  return [...latest.values()];
}

type Nested<T> = Map<string, T>;

function inside<T>(into: Nested<T>, key: string, fresh: () => T): T {
  const held = into.get(key);
  if (held !== undefined) return held;
  const made = fresh();
  into.set(key, made);
  return made;
}

const summed = (into: Map<string, Sum>, key: string, value: number, weight: number): void => {
  const sum = inside(into, key, () => ({ weight: 0, total: 0 }));
  sum.weight += weight;
  sum.total += weight * value;
};

export const meanOf = (sum: Sum | undefined): number | null => (sum && sum.weight > 1e-9 ? sum.total / sum.weight : null);

export function tallyOf(cases: Iterable<Case>, figure: Figure): Tally {
  const causes = new Map<string, Map<string, number>>();
  const outcomes = new Map<string, Map<string, Map<string, number>>>();
  const [labour, minutes, prices] = [new Map<string, Sum>(), new Map<string, Sum>(), new Map<string, Sum>()];
  for (const file of cases) {
    const { cause } = file;
    if (file.state !== "closed" || cause === null) continue;
    const weight = cureWeight(file, figure);
    const first = cause.split(".")[0] ?? "";
    const by = inside(causes, file.cause_system || (first === "own" ? "" : first), () => new Map<string, number>());
    by.set(cause, (by.get(cause) ?? 0) + weight);
    if (file.labour.repair_min > 0) summed(labour, cause, file.labour.repair_min, weight);
    for (const done of laterTests(file.tests)) {
      if (done.fault_present) {
        const seen = inside(inside(outcomes, done.test, () => new Map<string, Map<string, number>>()), cause, () => new Map<string, number>());
        seen.set(done.outcome, (seen.get(done.outcome) ?? 0) + weight);
      }
      if (done.minutes !== null) summed(minutes, done.test, done.minutes, weight);
    }
    for (const part of file.parts) if (part.price !== null) summed(prices, part.component, part.price, weight);
  }
  return { causes, outcomes, labour, minutes, prices };
}
