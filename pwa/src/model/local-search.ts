/** Past cases like this one, from the phone's own copy: good enough without signal, marked as such. */

import type { LocalCase } from "./local-case";
import { withMeanings, rightAsTyped, type Word } from "./own-words";
import { likeness, termsOf } from "./terms";
import { t } from "../texts";

export interface Question {
  readonly text: string;
  readonly symptoms?: readonly string[];
  readonly codes?: readonly string[];
  readonly vehicle?: {
    readonly year?: number | null;
    readonly make?: string;
    readonly model?: string;
    readonly engine?: string;
  };
  /** Words that are right as typed in this question, and the shop's own. */
  readonly asTyped?: readonly string[];
  readonly ownWords?: readonly Word[];
}

/** A typed word and the known one it was taken for. */
export interface LocalReadAs {
  readonly typed: string;
  readonly read: string;
}

export interface Found {
  readonly case: LocalCase;
  /** Higher is nearer; only for ordering, it is no chance. */
  readonly score: number;
  readonly why: {
    readonly words: readonly string[];
    readonly codes: readonly string[];
    readonly symptoms: readonly string[];
    readonly vehicle: string;
  };
}

/** Weight of each place a word can stand in. */
const FIELDS = { complaint: 1, outcome: 0.7, vehicle: 0.6, note: 0.4 } as const;
const CODE_WEIGHT = 1.6;
const SYMPTOM_WEIGHT = 1.2;

type Weights = ReadonlyMap<string, number>;

/** Cases are never changed in place, so their words need finding once. */
const known = new WeakMap<LocalCase, Weights>();

function wordsOf(one: LocalCase): Weights {
  const kept = known.get(one);
  if (kept) return kept;
  const weights = new Map<string, number>();
  const add = (text: string, weight: number): void =>
    termsOf(text).forEach((term) => weights.set(term, Math.max(weights.get(term) ?? 0, weight)));
  add(`${one.title} ${one.complaint} ${one.codes.join(" ")}`, FIELDS.complaint);
  add(`${one.cause_title} ${one.correction?.text ?? ""}`, FIELDS.outcome);
  add(`${one.vehicle.make} ${one.vehicle.model} ${one.vehicle.engine}`, FIELDS.vehicle);
  const stayedWrong = [...one.parts, ...one.repairs].map(({ note }) => note);
  add([one.note, ...stayedWrong].join(" "), FIELDS.note);
  known.set(one, weights);
  return weights;
}

/** Rare words tell more: ln(1 + N / n). */
const rarity = (all: number, having: number): number => Math.log(1 + all / Math.max(1, having));

interface Corpus {
  readonly cases: readonly LocalCase[];
  readonly words: Readonly<Map<string, number>>;
  readonly codes: Readonly<Map<string, number>>;
  readonly symptoms: Readonly<Map<string, number>>;
}

function count(into: Map<string, number>, items: Iterable<string>): void {
  for (const item of items) into.set(item, (into.get(item) ?? 0) + 1);
}

function corpusOf(cases: readonly LocalCase[]): Corpus {
  const [words, codes, symptoms] = [new Map<string, number>(), new Map<string, number>(), new Map<string, number>()];
  for (const one of cases) {
    count(words, wordsOf(one).keys());
    count(codes, new Set(one.codes));
    count(symptoms, new Set(one.symptoms));
  }
  return { cases, words, codes, symptoms };
}

interface Wanted {
  readonly term: string;
  /** Known words it may stand for, with likeness times rarity. */
  readonly as: Weights;
}

function wantedOf(term: string, { cases, words }: Corpus, right: ReadonlySet<string>): Wanted {
  const as = new Map<string, number>();
  for (const [word, having] of words) {
    const like = right.has(term) ? Number(term === word) : likeness(term, word);
    if (like > 0) as.set(word, like * rarity(cases.length, having));
  }
  return { term, as };
}

interface Share {
  readonly score: number;
  readonly shared: readonly string[];
}

function sharedWords(one: LocalCase, wanted: readonly Wanted[]): Share {
  const words = wordsOf(one);
  let score = 0;
  const shared: string[] = [];
  for (const { as } of wanted) {
    let best = { word: "", value: 0 };
    for (const [word, value] of as) {
      const here = value * (words.get(word) ?? 0);
      if (here > best.value) best = { word, value: here };
    }
    if (best.value > 0) shared.push(best.word);
    score += best.value;
  }
  // A long note holds any word by chance.
  return { score: score / (0.7 + 0.3 * Math.sqrt(words.size / 25)), shared };
}

function sharedItems(
  here: readonly string[],
  asked: readonly string[],
  counts: ReadonlyMap<string, number>,
  all: number,
): Share {
  const shared = asked.filter((item) => here.includes(item));
  return { shared, score: shared.reduce((sum, item) => sum + rarity(all, counts.get(item) ?? 1), 0) };
}

const alike = (a: string | undefined, b: string): boolean =>
  Boolean(a && b) && a?.trim().toLowerCase() === b.trim().toLowerCase();

function vehicleNearness(
  asked: NonNullable<Question["vehicle"]>,
  { vehicle }: LocalCase,
): { score: number; says: string } {
  if (!alike(asked.model, vehicle.model))
    return alike(asked.make, vehicle.make) ? { score: 0.3, says: asked.model && vehicle.model ? t().nearness.otherModel : t().nearness.sameMake } : { score: 0, says: "" };
  const apart = asked.year && vehicle.year ? Math.abs(asked.year - vehicle.year) : null;
  const years = apart === null ? "" : apart === 0 ? t().nearness.sameYear : t().nearness.yearsApart(apart);
  const engine = alike(asked.engine, vehicle.engine) ? t().nearness.sameEngine : "";
  return { score: 1 + (engine ? 0.3 : 0) - 0.1 * Math.min(8, apart ?? 4), says: [t().nearness.sameModel, years, engine].filter(Boolean).join(", ") };
}

function scored(one: LocalCase, question: Question, corpus: Corpus, wanted: readonly Wanted[]): Found {
  const all = corpus.cases.length;
  const words = sharedWords(one, wanted);
  const codes = sharedItems(one.codes, question.codes ?? [], corpus.codes, all);
  const symptoms = sharedItems(one.symptoms, question.symptoms ?? [], corpus.symptoms, all);
  const vehicle = vehicleNearness(question.vehicle ?? {}, one);
  const said = words.score + CODE_WEIGHT * codes.score + SYMPTOM_WEIGHT * symptoms.score;
  const why = { words: words.shared, codes: codes.shared, symptoms: symptoms.shared, vehicle: vehicle.says };
  // The vehicle alone is no likeness of faults; it lifts what is alike already.
  const asked = wanted.length + (question.codes ?? []).length + (question.symptoms ?? []).length > 0;
  return { case: one, score: asked ? said * (1 + 0.4 * vehicle.score) : vehicle.score, why };
}

const rightTerms = ({ asTyped = [], ownWords = [] }: Question): ReadonlySet<string> =>
  new Set(rightAsTyped(asTyped, ownWords).flatMap(termsOf));

function wantedBy(question: Question, corpus: Corpus): readonly Wanted[] {
  const terms = new Set(termsOf(withMeanings(question.text, question.ownWords ?? [])));
  const right = rightTerms(question);
  return [...terms].map((term) => wantedOf(term, corpus, right));
}

/** The cases most like the question, nearest first; a question that says nothing finds nothing. */
export function searchCases(
  cases: readonly LocalCase[],
  question: Question,
  { limit = 10 }: { readonly limit?: number } = {},
): readonly Found[] {
  const corpus = corpusOf(cases);
  const wanted = wantedBy(question, corpus);
  return cases
    .map((one) => scored(one, question, corpus, wanted))
    .filter((found) => found.score > 0)
    .sort((a, b) => b.score - a.score || (a.case.id < b.case.id ? -1 : 1))
    .slice(0, limit);
}

/** Typed words that no case holds, with the nearest that one does. */
export function readAsOf(cases: readonly LocalCase[], question: Question): readonly LocalReadAs[] {
  const corpus = corpusOf(cases);
  const right = rightTerms(question);
  const typed = new Map((question.text.match(/[\p{L}\p{N}'\u2019]+/gu) ?? []).flatMap((word) => termsOf(word).map((term) => [term, word] as const)));
  return [...typed].flatMap(([term, word]) => {
    if (corpus.words.has(term)) return [];
    const nearest = [...wantedOf(term, corpus, right).as].sort(([a, m], [b, n]) => n - m || a.localeCompare(b))[0];
    return nearest ? [{ typed: word, read: nearest[0] }] : [];
  });
}
