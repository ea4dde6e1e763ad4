/** How the faults of each system sound in the copy's own stories, so that a new story tells its system. */

import type { CaseDoc } from "./casedoc";
import type { Figure } from "./figures";
import { cureWeight } from "./tally";

/** The share of the suspicion that a story lays on a system; how far the cases tell how that one sounds. */
export interface Sound {
  readonly share: number;
  readonly known: number;
}

export interface Story {
  /** What its terms say, by their numbers. */
  readonly terms: ReadonlyMap<number, number>;
  /** Chance by symptom. */
  readonly symptoms: ReadonlyMap<string, number>;
}

/** The stories of one system: how many cases they count, and sums by the number of each term and by symptom. */
interface Told {
  readonly cases: number;
  readonly terms: Float64Array;
  readonly symptoms: Map<string, number>;
}

interface Lengths {
  readonly words: number;
  readonly symptoms: number;
}

type Stories = ReadonlyMap<string, Told>;

const lengthOf = (values: Iterable<number>): number => {
  let sum = 0;
  for (const value of values) sum += value * value;
  return Math.sqrt(sum);
};

const cosine = (dot: number, lengths: number): number => (lengths > 0 ? dot / lengths : 0);

export class SystemSounds {
  private readonly stories: Stories;
  private readonly lengths: ReadonlyMap<string, Lengths>;

  constructor(
    docs: readonly CaseDoc[],
    /** The smoothed idf of each term, by its number. */
    private readonly idf: Float64Array,
    private readonly figure: Figure,
  ) {
    this.stories = this.changed(new Map(), docs, 1);
    this.lengths = this.lengthsOf(this.stories);
  }

  /** How far a story sounds like each system, without some of the cases. One of no words and symptoms sounds like nothing. */
  sounds({ terms, symptoms }: Story, without: readonly CaseDoc[]): ReadonlyMap<string, Sound> {
    const stories = without.length ? this.changed(this.stories, without, -1) : this.stories;
    const lengths = without.length ? this.lengthsOf(stories) : this.lengths;
    const [words, heard] = [lengthOf(terms.values()), lengthOf(symptoms.values())];
    if (!stories.size || !(words > 0 || heard > 0)) return new Map();
    const figure = (name: string): number => this.figure("system sounds", name);
    const rise = ([system, told]: readonly [string, Told]): number => {
      let [said, alike] = [0, 0];
      for (const [term, weight] of terms) said += weight * this.idf[term]! * told.terms[term]!;
      for (const [symptom, chance] of symptoms) alike += chance * (told.symptoms.get(symptom) ?? 0);
      const theirs = lengths.get(system)!;
      return figure("BY_WORDS") * cosine(said, words * theirs.words) + figure("BY_SYMPTOMS") * cosine(alike, heard * theirs.symptoms);
    };
    const rises = [...stories].map(rise);
    const most = Math.max(...rises);
    const shares = rises.map((each) => Math.exp(each - most));
    const total = shares.reduce((sum, share) => sum + share, 0);
    return new Map([...stories].map(([system, { cases }], n) => [system, { share: shares[n]! / total, known: cases / (cases + figure("HALF_KNOWN")) }]));
  }

  private changed(before: Stories, docs: readonly CaseDoc[], sign: number): Stories {
    const [stories, touched] = [new Map(before), new Set<string>()];
    for (const doc of docs) {
      const { file, system, terms } = doc;
      if (system === null || file.state !== "closed" || file.cause === null || !terms.length) continue;
      const told = stories.get(system) ?? { cases: 0, terms: new Float64Array(this.idf.length), symptoms: new Map<string, number>() };
      const mine = touched.has(system) ? told : { ...told, terms: told.terms.slice(), symptoms: new Map(told.symptoms) };
      touched.add(system);
      stories.set(system, this.added(mine, doc, sign));
    }
    return new Map([...stories].filter(([, { cases }]) => cases > 0));
  }

  /** A story added to its system in whole parts, so that sums are the same in any order. */
  private added(told: Told, { file, terms, weights, symptoms }: CaseDoc, sign: number): Told {
    const count = cureWeight(file, this.figure);
    const parts = this.figure("system sounds", "PARTS") * count;
    const uses = Float64Array.from(weights, Math.log1p);
    const words = lengthOf(uses);
    uses.forEach((use, n) => (told.terms[terms[n]!]! += sign * Math.round((parts * use) / words)));
    const heard = lengthOf(symptoms.values());
    for (const [symptom, chance] of symptoms) told.symptoms.set(symptom, (told.symptoms.get(symptom) ?? 0) + sign * Math.round((parts * chance) / heard));
    return { ...told, cases: told.cases + sign * count };
  }

  private lengthsOf(stories: Stories): ReadonlyMap<string, Lengths> {
    const words = ({ terms }: Told): number => lengthOf(terms.map((sum, n) => sum * this.idf[n]!));
    return new Map([...stories].map(([system, told]) => [system, { words: words(told), symptoms: lengthOf(told.symptoms.values()) }]));
  }
}
