/** How likely each cause makes each answer to a question for the phone. */

import type { WordedAnswer, Wording } from "../wire-reasoning";
import type { Engine } from "./engine";

export interface Askable {
  readonly wording: Wording;
  /** P(answer | cause), a row for each answer; the last may be an answer not among the worded ones. */
  readonly rows: readonly Float64Array[];
  /** Bits of the answer once the cause is known, by cause. */
  readonly noise: Float64Array;
}

/** How readily each cause shows as the answer's likeliest symptom. */
function shownAs({ shows }: WordedAnswer, { beliefs }: Engine): Float64Array {
  const listed = shows.flatMap((symptom) => beliefs.shows.get(symptom) ?? []);
  return Float64Array.from(beliefs.causes, (_, column) => listed.reduce((most, row) => Math.max(most, row[column]!), 0));
}

function bySymptom(answers: readonly WordedAnswer[], nothing: number, engine: Engine): readonly Float64Array[] {
  const rows = [...answers.map((said) => shownAs(said, engine)), new Float64Array(engine.beliefs.causes.length).fill(nothing)];
  const sums = rows[0]!.map((_, column) => rows.reduce((sum, row) => sum + row[column]!, 0));
  return rows.map((row) => row.map((share, column) => share / sums[column]!));
}

function byCondition(answers: readonly WordedAnswer[], { beliefs, lean, figure }: Engine): readonly Float64Array[] {
  const asked = answers.flatMap(({ condition }) => (condition ? [Float64Array.from(beliefs.causes, (cause) => lean.shownBy(cause, condition))] : []));
  if (asked.length === 1) return [asked[0]!, asked[0]!.map((share) => 1 - share)];
  const none = figure("call chances", "SEES_NO_DIFFERENCE");
  const told = asked.map((row) => row.map((share, column) => ((1 - none) * share) / asked.reduce((sum, each) => sum + each[column]!, 0)));
  return [...told, new Float64Array(beliefs.causes.length).fill(none)];
}

function rowsOf({ kind, answers }: Wording, engine: Engine): readonly Float64Array[] {
  const at = (name: string): number => engine.figure("call chances", name);
  if (kind === "when") return byCondition(answers, engine);
  if (kind !== "danger") return bySymptom(answers, at(kind === "also" ? "NOTHING_BESIDES" : "NONE_OF_THEM"), engine);
  const shown = shownAs(answers[0]!, engine).map((share) => Math.min(share, 1 - at("NONE_OF_THEM")));
  return [shown, shown.map((share) => 1 - share)];
}

export function askable(wording: Wording, engine: Engine): Askable {
  const rows = rowsOf(wording, engine);
  const noise = rows[0]!.map((_, column) => rows.reduce((bits, row) => bits - (row[column]! > 0 ? row[column]! * Math.log2(row[column]!) : 0), 0));
  return { wording, rows, noise };
}

const laidOut = new WeakMap<Engine, readonly Askable[]>();

/** Every worded question for these lists; laid out once for each engine. */
export function askablesOf(engine: Engine): readonly Askable[] {
  const asks = laidOut.get(engine) ?? engine.lists.calls.wordings.map((each) => askable(each, engine));
  laidOut.set(engine, asks);
  return asks;
}
