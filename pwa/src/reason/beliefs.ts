/** The trade's chances as arrays: causes by symptom, outcomes by cause. */

import type { Trade, TradeTest } from "../wire";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";
import { placeFactor } from "./symptoms";

export interface Beliefs {
  readonly causes: readonly string[];
  readonly at: ReadonlyMap<string, number>;
  readonly systems: readonly string[];
  readonly weight: Float64Array;
  /** How often each cause shows as the symptom, never 0. */
  readonly shows: ReadonlyMap<string, Float64Array>;
  /** P(outcome | cause) of a test, one row for each outcome, anything else last. */
  readonly rows: ReadonlyMap<string, readonly Float64Array[]>;
  /** The causes that stand in a class of the test. */
  readonly named: ReadonlyMap<string, ReadonlySet<number>>;
  /** Tests with an outcome rule about a quantity, those that are about it foremost first. */
  readonly readBy: ReadonlyMap<string, readonly TradeTest[]>;
  readonly ofComponent: ReadonlyMap<string, readonly number[]>;
  /** A new part cures the cause. */
  readonly byPart: readonly boolean[];
  /** Causes that need a trait. */
  readonly needing: ReadonlyMap<string, readonly number[]>;
}

function grouped(names: readonly (readonly string[])[]): Map<string, number[]> {
  const found = new Map<string, number[]>();
  names.forEach((row, column) => {
    for (const name of row) found.set(name, [...(found.get(name) ?? []), column]);
  });
  return found;
}

function showsOf(lists: Lists, { symptoms, causes }: Trade): Map<string, Float64Array> {
  const figure = figuresOf(lists.numbers);
  const [suspect, other] = [figure("beliefs", "SUSPECT_SYSTEM"), figure("beliefs", "OTHER_SYSTEM")];
  const shows = new Map(symptoms.map(({ id, systems }) => [id, Float64Array.from(causes, ({ system }) => (systems.includes(system) ? suspect : other))]));
  causes.forEach((cause, column) =>
    cause.symptoms.forEach((symptom, place) => {
      const row = shows.get(symptom);
      if (row) row[column] = placeFactor(lists, place);
    }),
  );
  return shows;
}

function rowsOf({ outcomes, likelihood }: TradeTest, at: ReadonlyMap<string, number>): { rows: Float64Array[]; named: Set<number> } {
  const rest = likelihood.find(({ causes }) => !causes.length);
  const rows = outcomes.map(({ id }) => new Float64Array(at.size + 1).fill(rest?.p[id] ?? 0));
  const named = new Set<number>();
  for (const { causes, p } of likelihood)
    for (const cause of causes) {
      const column = at.get(cause);
      if (column === undefined) continue;
      named.add(column);
      outcomes.forEach(({ id }, n) => (rows[n]![column] = p[id] ?? 0));
    }
  return { rows, named };
}

function readByOf({ tests }: Trade): Map<string, TradeTest[]> {
  const found = new Map<string, TradeTest[]>();
  for (const test of tests) {
    const read = new Set(test.outcomes.flatMap(({ rule }) => (rule ? [rule.quantity] : [])));
    for (const quantity of read) found.set(quantity, [...(found.get(quantity) ?? []), test]);
  }
  for (const [quantity, held] of found) held.sort((a, b) => Number(a.quantity !== quantity) - Number(b.quantity !== quantity));
  return found;
}

export function beliefsOf(lists: Lists, trade: Trade): Beliefs {
  const at = new Map(trade.causes.map(({ id }, column) => [id, column]));
  const tables = trade.tests.map((test) => [test.id, rowsOf(test, at)] as const);
  const notByPart = new Set(lists.causes.not_by_part);
  return {
    causes: trade.causes.map(({ id }) => id),
    at,
    systems: trade.causes.map(({ system }) => system),
    weight: Float64Array.from(trade.causes, ({ weight }) => weight),
    shows: showsOf(lists, trade),
    rows: new Map(tables.map(([id, { rows }]) => [id, rows])),
    named: new Map(tables.map(([id, { named }]) => [id, named])),
    readBy: readByOf(trade),
    ofComponent: grouped(trade.causes.map(({ component }) => [component])),
    byPart: trade.causes.map(({ mode }) => !notByPart.has(mode)),
    needing: grouped(trade.causes.map(({ only_if }) => only_if)),
  };
}

/** Whether two tests look at one circuit: one system, and mostly the same causes named. */
export function sameCircuit(one: TradeTest, other: TradeTest, { named }: Beliefs): boolean {
  if (one.system !== other.system) return false;
  const [a, b] = [named.get(one.id) ?? new Set<number>(), named.get(other.id) ?? new Set<number>()];
  const both = [...a].filter((column) => b.has(column)).length;
  return both >= 0.6 * (a.size + b.size - both);
}
