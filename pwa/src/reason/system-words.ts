/** How the faults of each system sound in the copy's own stories, so that a new story tells its system. */

import type { CaseDoc } from "./casedoc";
import type { Figure } from "./figures";
import { cureWeight } from "./tally";

/** The share of the suspicion that a story's words lay on a system; how far the cases tell how that one sounds. */
export interface Sound {
  readonly share: number;
  readonly known: number;
}

/** The stories of one system: how many cases they count, and by the number of each term its sum. */
interface Told {
  readonly cases: number;
  readonly terms: Float64Array;
}

type Stories = ReadonlyMap<string, Told>;

/** What a story adds to its system: whole parts, so that sums are the same in any order. */
function partsOf({ weights }: CaseDoc, count: number, size: number): Float64Array {
  const uses = Float64Array.from(weights, Math.log1p);
  const length = Math.sqrt(uses.reduce((sum, use) => sum + use * use, 0));
  return uses.map((use) => Math.round((size * use * count) / length));
}

export class SystemWords {
  private readonly stories: Stories;
  private readonly lengths: ReadonlyMap<string, number>;

  constructor(
    docs: readonly CaseDoc[],
    /** The smoothed idf of each term, by its number. */
    private readonly idf: Float64Array,
    private readonly figure: Figure,
  ) {
    this.stories = this.changed(new Map(), docs, 1);
    this.lengths = this.lengthsOf(this.stories);
  }

  /** How far a story sounds like each system; `terms` are its weights by number. One without weight sounds like nothing. */
  sounds(terms: ReadonlyMap<number, number>, without: readonly CaseDoc[]): ReadonlyMap<string, Sound> {
    const length = Math.sqrt([...terms.values()].reduce((sum, weight) => sum + weight * weight, 0));
    const stories = without.length ? this.changed(this.stories, without, -1) : this.stories;
    const lengths = without.length ? this.lengthsOf(stories) : this.lengths;
    if (!(length > 0) || !stories.size) return new Map();
    const cosine = (system: string, told: Told): number => {
      let dot = 0;
      for (const [term, weight] of terms) dot += weight * this.idf[term]! * told.terms[term]!;
      return dot / length / lengths.get(system)!;
    };
    const cosines = [...stories].map(([system, told]) => cosine(system, told));
    const most = Math.max(...cosines);
    const rises = cosines.map((each) => Math.exp(this.figure("system words", "SHARPNESS") * (each - most)));
    const total = rises.reduce((sum, rise) => sum + rise, 0);
    const half = this.figure("system words", "HALF_KNOWN");
    return new Map([...stories].map(([system, { cases }], n) => [system, { share: rises[n]! / total, known: cases / (cases + half) }]));
  }

  private changed(before: Stories, docs: readonly CaseDoc[], sign: number): Stories {
    const [stories, touched] = [new Map(before), new Set<string>()];
    for (const doc of docs) {
      const { file, system, terms } = doc;
      if (system === null || file.state !== "closed" || file.cause === null || !terms.length) continue;
      const told = stories.get(system) ?? { cases: 0, terms: new Float64Array(this.idf.length) };
      const sums = touched.has(system) ? told.terms : told.terms.slice();
      const count = cureWeight(file, this.figure);
      partsOf(doc, count, this.figure("system words", "PARTS")).forEach((part, n) => (sums[terms[n]!]! += sign * part));
      touched.add(system);
      stories.set(system, { cases: told.cases + sign * count, terms: sums });
    }
    return new Map([...stories].filter(([, { cases }]) => cases > 0));
  }

  private lengthsOf(stories: Stories): ReadonlyMap<string, number> {
    const length = ({ terms }: Told): number => {
      let sum = 0;
      for (let n = 0; n < terms.length; n += 1) sum += (terms[n]! * this.idf[n]!) ** 2;
      return Math.sqrt(sum);
    };
    return new Map([...stories].map(([system, told]) => [system, length(told)]));
  }
}
