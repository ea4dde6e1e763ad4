/** What was looked at on this model before, for such a complaint, and found good. */

import type { Case, RuledOut, TestBody } from "../wire";
import type { Car } from "./cars";
import type { Engine } from "./engine";
import type { Match } from "./likeness";
import { nameKey } from "./names";
import type { Posterior } from "./posterior";
import type { Question } from "./question";
import { laterTests } from "./tally";

/** A test with one outcome over several cases: the causes it cleared and the minutes it took. */
interface Seen {
  readonly test: string;
  readonly outcome: string;
  times: number;
  readonly minutes: number[];
  readonly cleared: Set<number>;
}

function sameModel(one: Pick<Car, "make" | "model" | "year">, other: Pick<Car, "make" | "model" | "year">, band: number): boolean {
  if (!one.model || nameKey(one.model) !== nameKey(other.model)) return false;
  if (one.make && other.make && nameKey(one.make) !== nameKey(other.make)) return false;
  return one.year === null || other.year === null || Math.abs(one.year - other.year) <= band;
}

function likeCases({ systems, car }: Question, matches: readonly Match[], { figure }: Engine): readonly Case[] {
  const suspects = new Set([...systems.keys()].slice(0, figure("before", "SYSTEMS_IN_QUESTION")));
  const [like, band] = [figure("before", "LIKE"), figure("nearness", "YEAR_BAND")];
  const fits = ({ doc: { file, car: past }, chance }: Match): boolean => {
    if (file.state !== "closed" || file.cause === null || !sameModel(past, car, band)) return false;
    return chance >= like || suspects.has(file.cause_system ?? "") || suspects.has(file.cause.split(".")[0]!);
  };
  return matches.filter(fits).map(({ doc }) => doc.file);
}

/** Columns of the causes a test's outcome spoke against; none where it led to the case's cause. */
function cleared({ test, outcome }: Pick<TestBody, "test" | "outcome">, cause: string, { beliefs, tests }: Engine, least: number): readonly number[] {
  const place = tests.get(test)?.outcomes.findIndex(({ id }) => id === outcome) ?? -1;
  const row = beliefs.rows.get(test)?.[place];
  if (!row) return [];
  const [named, rest] = [beliefs.named.get(test) ?? new Set<number>(), row[row.length - 1]!];
  const found = [...named].filter((column) => row[column]! <= least * rest);
  const column = beliefs.at.get(cause) ?? -1;
  return named.has(column) && (row[column]! > rest || found.includes(column)) ? [] : found;
}

function median(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  return sorted.length ? (sorted[Math.ceil(middle) - 1]! + sorted[Math.floor(middle)]!) / 2 : null;
}

/** Titles of what was cleared and is in question now, likeliest first: the component's where nothing else of it is. */
function named({ cleared: found }: Seen, chances: Float64Array, { beliefs, figure, causes, components }: Engine): readonly string[] {
  const inQuestion = figure("before", "IN_QUESTION");
  const open = [...found].filter((column) => chances[column]! >= inQuestion).sort((a, b) => chances[b]! - chances[a]! || a - b);
  const stillOpen = (column: number): boolean => chances[column]! >= inQuestion && !found.has(column);
  const titles = open.map((column) => {
    const cause = causes.get(beliefs.causes[column]!)!;
    const whole = !(beliefs.ofComponent.get(cause.component) ?? []).some(stillOpen);
    return whole ? (components.get(cause.component)?.title ?? cause.title) : cause.title;
  });
  return [...new Set(titles)].slice(0, figure("before", "MOST_NAMED"));
}

function seenOn(cases: readonly Case[], question: Question, engine: Engine): readonly Seen[] {
  const doneNow = new Set((question.body.tests ?? []).map(({ test }) => test));
  const seen = new Map<string, Seen>();
  const clears = engine.figure("before", "CLEARS");
  for (const file of cases)
    for (const done of laterTests(file.tests)) {
      if (doneNow.has(done.test) || !done.fault_present || done.part) continue;
      const found = cleared(done, file.cause ?? "", engine, clears);
      if (!found.length) continue;
      const key = `${done.test} ${done.outcome}`;
      const held = seen.get(key) ?? { test: done.test, outcome: done.outcome, times: 0, minutes: [], cleared: new Set<number>() };
      held.times += 1;
      found.forEach((column) => held.cleared.add(column));
      if (done.minutes !== null) held.minutes.push(done.minutes);
      seen.set(key, held);
    }
  return [...seen.values()];
}

/** At most five tests that cleared causes now in question on cars of this model, most useful first. */
export function ruledOutBefore(question: Question, matches: readonly Match[], { byColumn }: Posterior, engine: Engine): readonly RuledOut[] {
  const use = ({ cleared: found, times }: Seen): number => ([...found].sort((a, b) => a - b).reduce((sum, column) => sum + byColumn[column]!, 0) * times) / (times + 1);
  const order = ({ test, outcome }: Seen): string => `${test} ${outcome}`;
  const ranked = seenOn(likeCases(question, matches, engine), question, engine).map((seen) => ({ seen, worth: use(seen) }));
  ranked.sort((a, b) => b.worth - a.worth || (order(a.seen) < order(b.seen) ? -1 : 1));
  const rows: RuledOut[] = [];
  for (const { seen } of ranked) {
    const causes = named(seen, byColumn, engine);
    const test = engine.tests.get(seen.test)!;
    if (causes.length) rows.push({ test: test.id, title: test.title, means: test.outcomes.find(({ id }) => id === seen.outcome)?.means ?? seen.outcome, times: seen.times, minutes: median(seen.minutes), causes });
    if (rows.length === engine.figure("before", "MOST_ROWS")) break;
  }
  return rows;
}
