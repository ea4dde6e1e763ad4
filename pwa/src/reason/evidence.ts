/** What tests, readings and objections say about the causes, as log-chances with a name each. */

import type { AdviceBody, ObjectionBody, TestBody } from "../wire";
import { sameCircuit } from "./beliefs";
import type { Columns } from "./columns";
import type { Engine } from "./engine";
import type { Question } from "./question";
import type { JudgedReading } from "./readings";
import { laterTests } from "./tally";
import { general } from "./wording";

export interface Evidence {
  readonly label: string;
  /** log P(result | cause). */
  readonly log: Float64Array;
  readonly test: string;
  readonly quantity: string;
  /** The objection, where it is one. */
  readonly objected: ObjectionBody | null;
}

/** This test asks whether the fault is there. */
export const REPRODUCES = "verify_complaint";
const NOT_SEEN = "not_seen";

/** Whether the fault may be away while testing. */
export function oftenAway({ tests = [], comes_and_goes }: AdviceBody): boolean {
  const tried = tests.filter(({ test }) => test === REPRODUCES);
  const last = tried.at(-1);
  if (last && last.outcome !== NOT_SEEN) return false;
  return Boolean(comes_and_goes) || tried.length > 0;
}

function presence(done: TestBody, away: boolean, { figure }: Engine): number {
  if (done.test === REPRODUCES) return 1;
  if (done.fault_present === false) return figure("evidence", "PRESENT_WHEN_AWAY");
  return away ? figure("evidence", "PRESENT_WHEN_COMES_AND_GOES") : 1;
}

/** log-chance that the test shows its part, as picked by the member, under each cause. */
export function shownLog(done: TestBody, columns: Columns, engine: Engine): Float64Array {
  const { figure, beliefs } = engine;
  const part = columns.at.get(done.part ?? "") ?? 0;
  const known = columns.outcome(done.test, done.outcome);
  const row = known ?? new Float64Array(columns.count).fill(figure("evidence", "OWN_MISLEADS")).map((p, n) => (n === part ? figure("evidence", "OWN_SHOWS") : p));
  const parts = known ? (beliefs.named.get(done.test)?.size ?? 0) : figure("evidence", "PARTS_SHOWN");
  return row.map((p, n) => Math.log(n === part ? p : (p * figure("evidence", "WRONG_PICK")) / Math.max(parts, 2)));
}

/** A reading in words: the quantity's title, the value and unit as typed. */
export const asRead = ({ shown: { quantity, value, unit } }: JudgedReading, { trade }: Engine): string =>
  `${trade.quantities.find(({ id }) => id === quantity)?.title ?? quantity} ${general(value ?? NaN)} ${unit}`;

function heard(done: TestBody, columns: Columns, engine: Engine, { away, reading = null }: { readonly away: boolean; readonly reading?: JudgedReading | null }): Evidence | null {
  const row = columns.outcome(done.test, done.outcome);
  if (!row) return null;
  const share = presence(done, away, engine);
  const rest = row[row.length - 1]!;
  const test = engine.tests.get(done.test);
  const means = test?.outcomes.find(({ id }) => id === done.outcome)?.means ?? done.outcome;
  const title = reading ? asRead(reading, engine) : (test?.title ?? done.test);
  return { label: `${title}: ${means}`, log: row.map((p) => Math.log(share * p + (1 - share) * rest)), test: done.test, quantity: reading?.reading.quantity ?? "", objected: null };
}

interface Said {
  readonly test: TestBody;
  readonly reading: JudgedReading;
}

/** Readings written down without a test: each acts as the test whose outcome rule it meets. */
function readingsSaid(question: Question, engine: Engine): readonly Said[] {
  const { beliefs, meter } = engine;
  const done = new Set((question.body.tests ?? []).map(({ test }) => test));
  const found = new Map<string, Said>();
  for (const judged of question.judged) {
    const { reading } = judged;
    const tests = beliefs.readBy.get(reading.quantity) ?? [];
    if ((reading.when ?? "before") !== "before" || tests.some(({ id }) => done.has(id))) continue;
    const inQuestion = [...tests].sort((a, b) => Number(!question.systems.has(a.system)) - Number(!question.systems.has(b.system)));
    for (const test of inQuestion) {
      const met = test.outcomes.filter(({ rule }) => rule && meter.meets(reading, rule)).map(({ id }) => id);
      if (!met.length) continue;
      // Rules may overlap: the outcome that is rarer at large says more.
      const rare = (outcome: string): number => beliefs.rows.get(test.id)?.[test.outcomes.findIndex(({ id }) => id === outcome)]?.at(-1) ?? 1;
      const outcome = met.reduce((held, each) => (rare(each) < rare(held) ? each : held));
      found.set(reading.quantity, { test: { test: test.id, outcome }, reading: judged });
      break;
    }
  }
  return [...new Map([...found.values()].map((said) => [said.test.test, said])).values()];
}

/** What a reason speaks of: the component where it says something of the part, else the cause. */
function aboutOf({ cause, because }: ObjectionBody, { causes, lists }: Engine): string {
  const known = causes.get(cause);
  const byPart = known !== undefined && !lists.causes.not_by_part.includes(known.mode);
  return known && (because === "not on this car" || (byPart && because !== "does not fit")) ? known.component : cause;
}

function objections(given: readonly ObjectionBody[], columns: Columns, engine: Engine): Evidence[] {
  const factors = engine.lists.causes.objections;
  const strongest = new Map<string, ObjectionBody>();
  for (const each of given) {
    const about = aboutOf(each, engine);
    const held = strongest.get(about);
    if (columns.at.has(each.cause) && (!held || (factors[each.because] ?? 1) < (factors[held.because] ?? 1))) strongest.set(about, each);
  }
  return [...strongest].map(([about, each]) => {
    const hit = about === each.cause ? columns.only(about) : columns.ofComponent(about, each.because !== "not on this car");
    const log = Float64Array.from(hit, (yes) => Math.log(yes ? (factors[each.because] ?? 1) : 1));
    return { label: `${columns.title(each.cause)}: ${each.because}, as objected`, log, test: "", quantity: "", objected: each };
  });
}

/** The last test that showed the very part; of a listed test only by an outcome that can. */
export function pointedAt({ tests = [] }: AdviceBody, engine: Engine): TestBody | null {
  const canPoint = ({ test, outcome }: TestBody): boolean => {
    const known = engine.tests.get(test);
    return !known || known.outcomes.some(({ id, names_part }) => id === outcome && names_part);
  };
  const last = [...laterTests(tests)].reverse();
  return last.find((done) => done.part && (done.fault_present ?? true) && canPoint(done)) ?? null;
}

export function evidenceOf(question: Question, columns: Columns, engine: Engine, pointed: TestBody | null): readonly Evidence[] {
  const { body } = question;
  const away = oftenAway(body);
  const tests = laterTests(body.tests ?? []).filter(({ test }) => test !== pointed?.test);
  const found = [
    ...tests.map((done) => heard(done, columns, engine, { away })),
    ...readingsSaid(question, engine).map(({ test, reading }) => heard(test, columns, engine, { away, reading })),
  ];
  return [...found.filter((each) => each !== null), ...objections(body.objections ?? [], columns, engine)];
}

/** Exponent of each result: those of one circuit say less together than apart. */
export function tempers(results: readonly Evidence[], kept: readonly number[], engine: Engine): number[] {
  return results.map((one, n) => {
    const alike = (other: Evidence): boolean => {
      if (other === one) return true;
      const [a, b] = [engine.tests.get(one.test), engine.tests.get(other.test)];
      return a !== undefined && b !== undefined && sameCircuit(a, b, engine.beliefs);
    };
    const size = results.reduce((sum, other, m) => sum + (kept[m] ?? 1) * Number(alike(other)), 0);
    return (kept[n] ?? 1) / Math.sqrt(Math.max(size, 1));
  });
}
