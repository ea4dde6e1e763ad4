/** The outcome a number decides by itself, where the test says so. */
import { FormulaError, worked } from "../model/arithmetic";
import { convert } from "../model/units";
import type { ConditionValue, OutcomeRule, ReadingBody, TradeTest } from "../wire";

type Bound = OutcomeRule["min"];

function numbersOf(conditions: Readonly<Record<string, ConditionValue>>): Record<string, number> {
  const pairs = Object.entries(conditions).flatMap(([name, value]) => (typeof value === "number" ? [[name, value] as const] : []));
  return Object.fromEntries(pairs);
}

function holds(rule: OutcomeRule, reading: ReadingBody): boolean {
  const value = convert(reading.value, reading.unit, rule.unit);
  if (value === null || rule.quantity !== reading.quantity) return false;
  const names = numbersOf(reading.conditions ?? {});
  const side = (bound: Bound, fits: (limit: number) => boolean): boolean => bound === null || fits(typeof bound === "number" ? bound : worked(bound, names));
  return side(rule.min, (limit) => value >= limit) && side(rule.max, (limit) => value <= limit) && side(rule.above, (limit) => value > limit) && side(rule.below, (limit) => value < limit);
}

/** The one outcome whose rule the reading meets; null where none, several, or a condition is missing. */
export function outcomeBy(test: TradeTest, reading: ReadingBody): string | null {
  try {
    const met = test.outcomes.filter((each) => each.rule && holds(each.rule, reading));
    return met.length === 1 ? (met[0]?.id ?? null) : null;
  } catch (error) {
    if (error instanceof FormulaError) return null;
    throw error;
  }
}

/** The causes an outcome may show outright: those of the classes that make it likely, likeliest first. */
export function causesShown(test: TradeTest, outcome: string, chance: (cause: string) => number): string[] {
  const rows = test.likelihood.filter((row) => row.causes.length > 0 && (row.p[outcome] ?? 0) >= 0.3);
  return [...new Set(rows.flatMap((row) => row.causes))].sort((a, b) => chance(b) - chance(a)).slice(0, 10);
}
