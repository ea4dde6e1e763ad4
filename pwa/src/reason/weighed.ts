/** Everything one decision rests on: the chances, the planning problem and what each first act costs. */

import { deeper, lookAhead } from "./ahead";
import type { Bar } from "./bars";
import type { Engine } from "./engine";
import { solve, statesOf } from "./exact";
import type { Layout, Mend } from "./layout";
import type { Posterior } from "./posterior";
import { bestOf, entropyOf, firstOf } from "./quick";
import type { Choice, First, Ground } from "./quick";
import type { Dropped } from "../wire";
import type { Question } from "./question";
import { laterTests } from "./tally";

export interface Weighed {
  readonly question: Question;
  readonly posterior: Posterior;
  readonly layout: Layout;
  readonly engine: Engine;
  /** Leading causes that a result pushed down. */
  readonly dropped: readonly Dropped[];
  /** By the place of the test in the layout. */
  readonly bars: ReadonlyMap<number, Bar>;
  /** Minutes that every test saves. */
  readonly saves: Float64Array;
  /** Over the repairs and the tests at `near`. */
  readonly choice: Choice;
  readonly near: readonly number[];
  /** The problem with those tests alone. */
  readonly close: Ground;
  readonly first: First;
}

function promising(ground: Ground, can: readonly number[], { figure }: Engine): { readonly chosen: readonly number[]; readonly cost: Float64Array } {
  const { cost, doubt } = ground.alone(ground.on.p);
  const whole = entropyOf(ground.on.p);
  const bits = (t: number): number => (whole - doubt[t]!) / ground.on.tests[t]!;
  const byCost = [...can].sort((a, b) => cost[a]! - cost[b]!).slice(0, figure("choose", "BY_COST"));
  const byBits = [...can].sort((a, b) => bits(b) - bits(a)).slice(0, figure("choose", "BY_BITS"));
  return { chosen: [...new Set([...byCost, ...byBits])], cost };
}

/** The cheapest first act; of tests about as good that save their own minutes, the quickest. */
function firstAct(close: Ground, choice: Choice, chosen: readonly number[], saves: Float64Array, { figure }: Engine): First {
  const [kind, index] = firstOf(choice);
  if (kind !== "test") return [kind, index];
  const within = bestOf(choice) * (1 + figure("choose", "NEAR_TIE"));
  const minutes = (t: number): number => close.on.tests[t]! + close.on.setup[0]![t]!;
  const saved = (t: number): number => saves[chosen[t]!]!;
  const near = [...choice.byTest.keys()].filter((t) => choice.byTest[t]! <= within && saved(t) >= minutes(t));
  const [quickest = index] = (near.length ? near : [index]).sort((a, b) => minutes(a) - minutes(b) || saved(b) - saved(a));
  return [kind, chosen[quickest]!];
}

export function weigh(given: Pick<Weighed, "question" | "posterior" | "layout" | "engine" | "bars" | "dropped">): Weighed {
  const { layout, engine, bars } = given;
  const can = [...layout.tests.keys()].filter((n) => !bars.has(n));
  const { chosen, cost } = promising(layout.ground, can, engine);
  const close = layout.near(chosen);
  const outlook = lookAhead(close);
  const saves = cost.map((each) => outlook.stop - each);
  chosen.forEach((n, t) => (saves[n] = outlook.saves[t]!));
  const small = statesOf(close) <= engine.figure("choose", "SMALL_STATES");
  const choice = small ? solve(close) : deeper(close, outlook.choice, engine.figure);
  return { ...given, saves, choice, close, near: chosen, first: firstAct(close, choice, chosen, saves, engine) };
}

export const openOf = ({ layout, bars }: Weighed): number[] => [...layout.tests.keys()].filter((n) => !bars.has(n));

/** Chance that the repair cures. */
export const chanceOf = ({ posterior: { byColumn, columns } }: Weighed, { cures }: Mend): number =>
  cures.reduce((sum, cause) => sum + (byColumn[columns.at.get(cause) ?? -1] ?? 0), 0);

export const titleOf = ({ layout }: Weighed, { cures }: Mend): string => layout.rows.find(({ cause }) => cause === cures[0])?.title ?? cures[0] ?? "";

/** Diagnosis minutes so far: as told, else those of the tests. */
export const spentOf = ({ question: { body } }: Weighed): number => body.minutes_spent ?? (body.tests ?? []).reduce((sum, { minutes }) => sum + (minutes ?? 0), 0);

export const moneyOf = ({ engine }: Weighed, minutes: number): number => Math.round((minutes * engine.taught.rate_per_hour * 100) / 60) / 100;

/** Tests done with the fault present whose outcome is clearly likelier under one of the causes. */
function speakingFor({ question, posterior, engine }: Weighed, { cures }: Mend): ReadonlySet<string> {
  const ratio = engine.figure("proof", "PROOF_RATIO");
  const columns = cures.flatMap((cause) => engine.beliefs.at.get(cause) ?? []);
  const done = laterTests(question.body.tests ?? []).filter(({ test, outcome, fault_present }) => {
    const row = posterior.columns.listedRow(test, outcome);
    return (fault_present ?? true) && row && columns.length > 0 && Math.max(...columns.map((column) => row[column]!)) >= ratio * row[row.length - 1]!;
  });
  return new Set(done.map(({ test }) => test));
}

/** Whether nothing more need be proved before a part. */
export function confirmed(weighed: Weighed, mend: Mend): boolean {
  const { posterior, engine } = weighed;
  if (mend.cures.includes(posterior.settled ?? "") || chanceOf(weighed, mend) >= engine.figure("proof", "NEAR_SURE")) return true;
  const spoke = speakingFor(weighed, mend);
  return mend.cures.some((cause) => spoke.has(engine.causes.get(cause)?.confirm_test ?? ""));
}

/** Whether a part of a safety system may go in. */
export function provedSafe(weighed: Weighed, mend: Mend): boolean {
  if (mend.cures.includes(weighed.posterior.settled ?? "")) return true;
  const sure = chanceOf(weighed, mend) >= weighed.engine.figure("proof", "NEARLY_SURE") || !provers(weighed, mend, openOf(weighed)).length;
  return sure && speakingFor(weighed, mend).size > 0;
}

/** Those tests with an outcome at least twice as likely under the repair's causes as under the rest. */
function provers({ layout, engine }: Weighed, mend: Mend, among: readonly number[]): number[] {
  const [ratio, least] = [engine.figure("proof", "PROOF_RATIO"), engine.figure("proof", "SEEN_AT_LEAST")];
  const { p } = layout.ground.on;
  const inside = p.map((each, c) => (mend.cures.includes(layout.rows[c]?.cause ?? "") ? each : 0));
  const mass = inside.reduce((sum, each) => sum + each, 0);
  const rest = p.reduce((sum, each) => sum + each, 0) - mass;
  return among.filter((n) =>
    layout.lik[n]!.some((row) => {
      const [under, other] = row.reduce(([u, o], likely, c) => [u + likely * inside[c]!, o + likely * (p[c]! - inside[c]!)], [0, 0]);
      return under! / Math.max(mass, 1e-300) >= Math.max(least, (ratio * other!) / Math.max(rest, 1e-300));
    }),
  );
}

/** The cause's own confirming test if it is among them, else the one that saves most. */
export function bestProver(weighed: Weighed, mend: Mend, among: readonly number[]): number | null {
  const { layout, engine, saves } = weighed;
  const found = provers(weighed, mend, among);
  const confirm = engine.causes.get(mend.cures[0] ?? "")?.confirm_test;
  const listed = found.filter((n) => layout.tests[n]?.id === confirm);
  const better = (a: number, b: number): number => saves[b]! - saves[a]! || layout.minutes(a) - layout.minutes(b);
  return (listed.length ? listed : found).sort(better)[0] ?? null;
}

/** A test cheaper than the part that would confirm it first. */
export function beforeBuying(weighed: Weighed, mend: Mend): number | null {
  if (mend.safety || mend.part <= 0 || confirmed(weighed, mend)) return null;
  return bestProver(weighed, mend, openOf(weighed).filter((n) => weighed.layout.minutes(n) < mend.part));
}
