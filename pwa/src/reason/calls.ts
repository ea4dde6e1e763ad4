/** The questions that split the causes best before the car is seen. */

import type { CallQuestion } from "../wire";
import type { Wording } from "../wire-reasoning";
import { askable, askablesOf } from "./askable";
import type { Askable } from "./askable";
import type { Engine } from "./engine";
import type { Posterior } from "./posterior";
import type { Question } from "./question";
import { saysItHides, stillOpen, vague } from "./still-open";

const [ALSO, SOMETHING_ELSE, DO_NOT_DRIVE] = ["Does it do one of these too?", "Something else", "Not to be driven if"];
/** Causes less likely than this, and answers as unlikely, tell nothing of what to ask. */
const NEGLIGIBLE = 1e-5;

function total(row: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < row.length; n += 1) sum += row[n]!;
  return sum;
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < one.length; n += 1) sum += one[n]! * other[n]!;
  return sum;
}

/** Shares of the listed causes as the words leave them: one name may stand for several complaints. */
function likelyCauses({ body, heard, mended }: Question, { byColumn }: Posterior, { beliefs, lists, figure }: Engine): Float64Array {
  const named = byColumn.subarray(0, beliefs.causes.length);
  const sum = total(named);
  const listed = Float64Array.from(named, (p) => p / sum);
  const best = heard[0];
  if ((body.symptoms ?? []).length || !best) return listed;
  const which = lists.calls.wordings.slice(0, lists.calls.which).filter(({ among }) => among.includes(best.symptom));
  const doubt = Math.max(1 - best.chance, which.some((wording) => vague(wording, mended)) ? figure("call likely", "VAGUE") : 0);
  const others = [...new Set(which.flatMap(({ among }) => among))].filter((id) => id !== best.symptom && beliefs.shows.has(id));
  if (!others.length) return listed;
  const meant = new Float64Array(listed.length);
  for (const symptom of others) {
    const shows = beliefs.shows.get(symptom)!;
    const shares = beliefs.weight.map((weight, column) => (listed[column]! > figure("call likely", "RULED_OUT") ? weight * shows[column]! : 0));
    const all = total(shares);
    shares.forEach((share, column) => (meant[column]! += share / all / others.length));
  }
  return listed.map((p, column) => (1 - doubt) * p + doubt * meant[column]!);
}

/** What the likely causes also show as and no worded question asks for; null where that is too little. */
function closest(likely: Float64Array, { heard }: Question, open: readonly Askable[], engine: Engine): Askable | null {
  const { beliefs, symptoms, figure } = engine;
  const known = new Set([
    ...heard.filter(({ chance }) => chance >= figure("call open", "HEARD")).map(({ symptom }) => symptom),
    ...open.flatMap(({ wording: { answers, among } }) => [...answers.flatMap(({ symptom }) => symptom ?? []), ...among]),
  ]);
  const others = [...beliefs.shows].filter(([symptom]) => !known.has(symptom));
  const near = others.map(([symptom, row]) => ({ symptom, often: dot(row, likely) })).sort((a, b) => b.often - a.often).slice(0, figure("call", "MOST_NEAR"));
  if (near.length < 2) return null;
  const answers = near.map(({ symptom }) => ({ title: symptoms.get(symptom)?.title ?? symptom, symptom, condition: null, shows: [symptom] }));
  return askable({ kind: "also", question: ALSO, answers, among: [], unless: [], name: "", settled: "" }, engine);
}

/** Whether the two ask for the same, or both only ask when. */
function alike(one: Wording, other: Wording): boolean {
  if (one.question === other.question || (one.kind === "when" && other.kind === "when")) return true;
  if (one.kind === "hint" || other.kind === "hint") return false;
  return one.answers.some(({ symptom }) => symptom !== null && other.answers.some((said) => said.symptom === symptom));
}

/** Expected bits of the answer after the answers so far, which are the rows of `joint`. */
function spread({ rows }: Askable, joint: readonly Float64Array[]): number {
  let bits = 0;
  for (const before of joint) {
    const all = Math.max(total(before), 1e-300);
    for (const row of rows) {
      const answer = dot(before, row);
      bits -= answer * Math.log2(Math.max(answer / all, 1e-300));
    }
  }
  return bits;
}

/** The questions, each the most telling once those before it are answered. */
function chosen(asks: readonly Askable[], likely: Float64Array, hides: boolean, { figure }: Engine): readonly Askable[] {
  const at = (name: string): number => figure("call choice", name);

  /** What the answer is worth beyond the cause, in bits: a danger found, a way to see the fault. */
  function besides({ wording: { kind, answers }, rows }: Askable): number {
    if (kind !== "danger" && !(hides && kind === "when")) return 0;
    const chance = rows.slice(0, answers.length - 1).reduce((sum, row) => sum + dot(row, likely), 0);
    if (kind === "when") return at("BITS_TO_SEE_IT") * chance;
    return chance >= at("LEAST_DANGER") ? at("BITS_FOR_DANGER") * chance : -at("LEAST_BITS");
  }

  const fixed = asks.map((ask) => besides(ask) - dot(ask.noise, likely));
  const free = asks.map(() => true);
  const found: Askable[] = [];
  let joint: readonly Float64Array[] = [likely];
  while (found.length < at("MOST")) {
    const worth = asks.map((ask, n) => (free[n] ? spread(ask, joint) + fixed[n]! : 0));
    const best = worth.reduce((most, each, n) => (each > worth[most]! ? n : most), 0);
    if (!asks.length || worth[best]! < at("LEAST_BITS")) break;
    const ask = asks[best]!;
    found.push(ask);
    joint = joint.flatMap((before) => ask.rows.map((row) => before.map((p, n) => p * row[n]!))).filter((row) => total(row) > NEGLIGIBLE);
    asks.forEach(({ wording }, n) => (free[n] &&= !alike(wording, ask.wording)));
  }
  return found;
}

/** The causes that the first answers lift most, each once, and what makes the car unsafe. */
function why({ wording: { kind, answers }, rows }: Askable, likely: Float64Array, { beliefs, causes, lists, figure }: Engine): string {
  const told = new Map<string, string>();
  answers.forEach(({ title }, n) => {
    const after = likely.map((p, column) => p * (rows[n]?.[column] ?? 0));
    const all = total(after);
    const lifted = after.map((p, column) => p / all - likely[column]!);
    const most = lifted.reduce((best, lift, column) => (lift > lifted[best]! ? column : best), 0);
    const cause = causes.get(beliefs.causes[most] ?? "")?.title ?? "";
    if (lifted[most]! >= figure("call", "LEAST_LIFT") && !told.has(cause)) told.set(cause, title);
  });
  const shown = kind === "danger" ? 1 : figure("call", "SHOWN_WHY");
  const speaks = [...told].slice(0, shown).map(([cause, answer]) => `${answer}: ${cause}`).join("; ");
  const unsafe = answers.filter(({ symptom }) => symptom && lists.calls.unsafe.includes(symptom)).map(({ title }) => title);
  return unsafe.length ? `${speaks}. ${DO_NOT_DRIVE}: ${unsafe.join(", ")}.` : `${speaks}.`;
}

/** Only the causes worth weighing, so that asking stays quick. */
function narrowed(asks: readonly Askable[], likely: Float64Array): { readonly asks: readonly Askable[]; readonly likely: Float64Array } {
  const kept = [...likely.keys()].filter((column) => likely[column]! >= NEGLIGIBLE);
  function pick(row: Float64Array): Float64Array {
    const picked = new Float64Array(kept.length);
    for (let n = 0; n < picked.length; n += 1) picked[n] = row[kept[n]!]!;
    return picked;
  }
  return { asks: asks.map((ask) => ({ ...ask, rows: ask.rows.map(pick), noise: pick(ask.noise) })), likely: pick(likely) };
}

/** At most three questions for the phone, the most telling first; none once the car was looked at. */
export function callQuestions(question: Question, posterior: Posterior, engine: Engine): readonly CallQuestion[] {
  const { tests = [], readings = [], parts = [], repairs = [], comes_and_goes, complaint } = question.body;
  const seen = tests.length + readings.length + parts.length + repairs.length > 0;
  const nothingSaid = !(question.heard.length || question.codes.length || question.mentioned.length);
  if (seen || nothingSaid || (posterior.rows[0]?.probability ?? 0) >= engine.figure("call", "CLEAR")) return [];
  const likely = likelyCauses(question, posterior, engine);
  const open = stillOpen(askablesOf(engine), question, engine);
  const near = closest(likely, question, open, engine);
  const asks = near ? [...open, near] : open;
  const small = narrowed(asks, likely);
  const found = chosen(small.asks, small.likely, Boolean(comes_and_goes) || saysItHides(complaint, engine), engine);
  return found.map(({ wording }) => {
    const ask = asks.find((each) => each.wording === wording)!;
    const said = wording.answers.map(({ title, symptom, condition }) => ({ title, symptom, condition }));
    const more = said.length < ask.rows.length ? [{ title: SOMETHING_ELSE, symptom: null, condition: null }] : [];
    return { question: wording.question, why: why(ask, likely, engine), answers: [...said, ...more] };
  });
}
