/** Hears listed symptoms in a member's words, and finds the components they name. */

import type { Symptom, Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import type { Analysis, Analyzer } from "./analyze";
import { figuresOf } from "./figures";
import { wordGrams } from "./grams";
import { stem } from "./stem";
import { Tfidf, countsOf } from "./tfidf";

export interface Heard {
  readonly symptom: string;
  readonly chance: number;
}

export interface Mentioned {
  readonly component: string;
  readonly weight: number;
}

export interface Spotter {
  readonly hear: (said: Analysis) => readonly Heard[];
  readonly mentioned: (said: Analysis) => readonly Mentioned[];
}

const LONGEST_NAME = 4;
const MOST_OWNERS = 6;
const LEAST_TOGETHER = 0.8;

const phrasesOf = ({ title, said_by_customer, written_by_tech, misheard_or_typo }: Symptom): readonly string[] => [
  title, ...said_by_customer, ...written_by_tech, ...misheard_or_typo,
];

const charsOf = ({ words }: Pick<Analysis, "words">): string[] => words.flatMap(wordGrams);

/** How often a cause shows as the symptom at a place of its list; the last factor counts for all that follow. */
export const placeFactor = ({ causes }: Lists, place: number): number =>
  causes.place_factors[Math.min(place, causes.place_factors.length - 1)] ?? 0;

/** Per symptom the words of the causes that show as it. */
function kinOf({ symptoms, causes, components }: Trade): string[] {
  const parts = new Map(components.map((one) => [one.id, one]));
  const words = new Map(symptoms.map(({ id }) => [id, ""]));
  for (const cause of causes) {
    const part = parts.get(cause.component);
    const text = [cause.title, part?.title ?? "", ...(part?.also ?? []), ""].join(". ");
    for (const symptom of cause.symptoms) words.set(symptom, (words.get(symptom) ?? "") + text);
  }
  return symptoms.map(({ id }) => words.get(id) ?? "");
}

/** How usual each symptom is, in [0, 1]. */
function usualOf(lists: Lists, { symptoms, causes }: Trade): readonly number[] {
  const weight = new Map(symptoms.map(({ id }) => [id, 1]));
  for (const cause of causes)
    cause.symptoms.forEach((symptom, place) => weight.set(symptom, (weight.get(symptom) ?? 1) + placeFactor(lists, place) * cause.weight));
  const logs = symptoms.map(({ id }) => Math.log(weight.get(id) ?? 1));
  const most = Math.max(1, ...logs);
  return logs.map((log) => log / most);
}

/** `trade` are the shipped lists: symptoms are heard by these alone. `all` may hold the shop's own parts. */
export function spotter(lists: Lists, trade: Trade, all: Trade, { analyze }: Analyzer): Spotter {
  const figure = figuresOf(lists.numbers);
  const [bias, most, least] = [figure("symptoms", "BIAS"), figure("symptoms", "MOST_HEARD"), figure("symptoms", "LEAST_CHANCE")];
  const weights = lists.symptoms.weights;
  const passing = new Set(lists.symptoms.passing);
  const ids = trade.symptoms.map(({ id }) => id);
  const phrases = trade.symptoms.flatMap((symptom, n) => phrasesOf(symptom).map((phrase) => ({ n, read: telling(analyze(phrase)) })));
  const owner = Int32Array.from(phrases, ({ n }) => n);
  const byWords = new Tfidf(phrases.map(({ read }) => countsOf(read.terms)), false);
  const byChars = new Tfidf(phrases.map(({ read }) => countsOf(charsOf(read))), true);
  const together = ids.map(() => new Map<string, number>());
  for (const { n, read } of phrases) for (const term of read.terms) together[n]?.set(term, (together[n].get(term) ?? 0) + 1);
  const byAll = new Tfidf(together, true);
  const byKin = new Tfidf(kinOf(trade).map((text) => countsOf(analyze(text).terms)), true);
  const usual = usualOf(lists, trade);
  const mentioned = mentions(all, analyze);

  /** Without words that say when or how often. */
  function telling(said: Analysis): Pick<Analysis, "terms" | "words"> {
    const passes = (term: string): boolean =>
      term.split(" ").some((part) => passing.has(part.replace(/^not_/, "").replace(/^=/, "")));
    const terms = said.terms.filter((term) => !passes(term));
    return terms.length ? { terms, words: said.words.filter((word) => !passing.has(stem(word))) } : said;
  }

  function best(scores: Float64Array): Float64Array {
    const found = new Float64Array(ids.length);
    for (let n = 0; n < scores.length; n += 1) {
      const at = owner[n]!;
      if (scores[n]! > found[at]!) found[at] = scores[n]!;
    }
    return found;
  }

  function chances(said: Analysis): Float64Array {
    const { terms, words } = telling(said);
    const [cosine, inside] = [byWords.cosines(terms), byWords.containments(terms)];
    const phrase = best(cosine.map((value, n) => Math.sqrt(value * inside[n]!)));
    const spelling = best(byChars.cosines(charsOf({ words })));
    const [whole, kin] = [byAll.cosines(terms), byKin.cosines(terms)];
    const sums = phrase.map((value, n) => value + whole[n]! + spelling[n]! + kin[n]!);
    const top = Math.max(LEAST_TOGETHER, ...sums);
    return phrase.map((value, n) => {
      const row = [value, value ** 2, whole[n]!, spelling[n]!, kin[n]!, sums[n]! / top, usual[n] ?? 0];
      return 1 / (1 + Math.exp(-row.reduce((sum, each, place) => sum + each * (weights[place] ?? 0), bias)));
    });
  }

  return {
    mentioned,
    hear(said) {
      if (!said.terms.length) return [];
      const heard = [...chances(said)].map((chance, n) => ({ symptom: ids[n] ?? "", chance }));
      return heard.sort((a, b) => b.chance - a.chance).slice(0, most).filter(({ chance }) => chance >= least);
    },
  };
}

/** Every run of stems as long as a name may be: the longest of each start last. */
function* runsOf(stems: readonly string[]): Generator<{ readonly name: string; readonly size: number }> {
  for (let at = 0; at < stems.length; at += 1)
    for (let size = 1; size <= Math.min(LONGEST_NAME, stems.length - at); size += 1) yield { name: stems.slice(at, at + size).join(" "), size };
}

/** Components named in a text; a longer name and fewer owners weigh more. */
function mentions({ components }: Trade, analyze: Analyzer["analyze"]): Spotter["mentioned"] {
  const owners = new Map<string, Set<string>>();
  for (const { id, title, also } of components)
    for (const name of [title, ...also]) {
      const key = analyze(name).stems.join(" ");
      if (key) owners.set(key, (owners.get(key) ?? new Set()).add(id));
    }
  const known = new Set(components.map(({ id }) => id));
  return ({ stems, expansions }) => {
    const weights = new Map<string, number>();
    const named = (id: string, weight: number): Map<string, number> => weights.set(id, Math.max(weights.get(id) ?? 0, weight));
    for (const run of runsOf(stems)) {
      const found = owners.get(run.name);
      if (found && found.size <= MOST_OWNERS) for (const id of found) named(id, (1 - 0.4 / run.size) / found.size);
    }
    for (const { refersTo } of expansions) if (refersTo !== null && known.has(refersTo)) named(refersTo, 0.8);
    return [...weights].map(([component, weight]) => ({ component, weight })).sort((a, b) => b.weight - a.weight || (a.component < b.component ? -1 : 1));
  };
}
