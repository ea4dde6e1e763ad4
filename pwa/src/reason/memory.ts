/** The copy made ready to be asked: its cases by words, spelling and facets, and what they add up to. */

import type { Analysis, Analyzer } from "./analyze";
import { carFacet } from "./casedoc";
import type { CaseDoc, Lexicon } from "./casedoc";
import { Cars } from "./cars";
import type { Codes } from "./codes";
import type { Figure } from "./figures";
import { nthLargest } from "./nth-largest";
import { stem } from "./stem";
import { tallyOf } from "./tally";
import type { Tally } from "./tally";
import { seldom } from "./seldom";
import { SystemSounds } from "./system-sounds";
import type { Sound } from "./system-sounds";
import { crowding, level, levelOf } from "./together";
import type { WordBook } from "./wordbook";

export interface Candidate {
  readonly doc: CaseDoc;
  readonly place: number;
  /** Share in [0, 1) of the question's weight found in it; `chars` counts words spelt alike too. */
  readonly words: number;
  readonly chars: number;
}

export interface Wanted {
  readonly analysis: Analysis;
  readonly codes: readonly string[];
  readonly heard: readonly { readonly symptom: string; readonly chance: number }[];
  readonly systems: readonly string[];
  readonly model: string;
}

/** What a question's terms say, and the symptoms heard. */
interface Said extends Pick<Wanted, "heard"> {
  readonly weights: ReadonlyMap<string, number>;
}

export interface Tools {
  readonly figure: Figure;
  readonly analyzer: Analyzer;
  readonly lexicon: Lexicon;
  readonly book: WordBook;
  readonly codes: Codes;
}

/** For each term the documents that hold it, with a weight each. */
interface Postings {
  readonly starts: Int32Array;
  readonly docs: Int32Array;
  readonly weights: Float32Array;
}

function postingsOf(docs: readonly CaseDoc[], terms: number): Postings {
  const starts = new Int32Array(terms + 1);
  for (const doc of docs) for (const term of doc.terms) starts[term + 1]! += 1;
  for (let term = 0; term < terms; term += 1) starts[term + 1]! += starts[term]!;
  const next = starts.slice();
  const [held, weights] = [new Int32Array(starts[terms]!), new Float32Array(starts[terms]!)];
  docs.forEach((doc, place) =>
    doc.terms.forEach((term, n) => {
      const at = next[term]!++;
      held[at] = place;
      weights[at] = doc.weights[n]!;
    }),
  );
  return { starts, docs: held, weights };
}

/** A share of 0 or more brought into [0, 1) in the same order; small ones stay as they are. */
function partOfAll(found: number, plain: number): number {
  return Math.min(found, plain) + (1 - plain) * (1 - Math.exp(-Math.max(found - plain, 0) / (1 - plain)));
}

export class Memory {
  readonly cars: Cars;
  readonly tally: Tally;
  private readonly postings: Postings;
  private readonly wordCounts: Int32Array;
  private readonly facets = new Map<string, number[]>();
  private readonly lengths: Float32Array;
  private readonly meanLength: number;
  private readonly sampled: Int32Array;
  /** The smoothed idf of each term, by its number. */
  readonly idf: Float64Array;
  private readonly norms: Float64Array;
  private readonly evidence: Uint8Array;
  private readonly places: ReadonlyMap<string, number>;
  /** Null where every system is one of the lists. */
  private systemSounds?: SystemSounds | null;

  constructor(
    readonly docs: readonly CaseDoc[],
    readonly tools: Tools,
  ) {
    const { lexicon, book, figure } = tools;
    this.postings = postingsOf(docs, lexicon.terms.length);
    const { starts } = this.postings;
    this.idf = Float64Array.from(lexicon.terms, (_, term) => Math.log((1 + docs.length) / (1 + starts[term + 1]! - starts[term]!)) + 1);
    this.norms = new Float64Array(docs.length).fill(-1);
    this.evidence = Uint8Array.from(docs, ({ file }) => Number(file.state !== "open"));
    this.places = new Map(docs.map(({ file }, place) => [file.id, place]));
    this.wordCounts = new Int32Array(book.words.length);
    for (const doc of docs) for (const word of doc.words) this.wordCounts[word]! += 1;
    docs.forEach((doc, place) => {
      for (const facet of doc.facets) {
        const held = this.facets.get(facet);
        if (held) held.push(place);
        else this.facets.set(facet, [place]);
      }
    });
    this.lengths = Float32Array.from(docs, ({ length }) => length);
    const total = docs.reduce((sum, { length }) => sum + Math.round(length * 1000), 0);
    this.meanLength = total > 0 ? total / 1000 / docs.length : 1;
    const least = level(docs.length, figure("together", "SAMPLE"));
    this.sampled = Int32Array.from(docs.map(({ file }, place) => (levelOf(file.id) >= least ? place : -1)).filter((place) => place >= 0));
    this.cars = new Cars(docs.map(({ car }) => car));
    this.tally = tallyOf(docs.map(({ file }) => file), figure);
  }

  doc(id: string): CaseDoc | undefined {
    return this.docs[this.places.get(id) ?? -1];
  }

  /** Cases that hold a term of this number. */
  private count(term: number | undefined): number {
    const { starts } = this.postings;
    return term === undefined || term + 1 >= starts.length ? 0 : starts[term + 1]! - starts[term]!;
  }

  wordFrequency(word: string): number {
    const number = this.tools.book.number(word);
    return number === undefined ? 0 : (this.wordCounts[number] ?? 0);
  }

  facetCount(facet: string): number {
    return this.facets.get(facet)?.length ?? 0;
  }

  /** How much sharing a facet says. */
  facetSeldom(facet: string): number {
    return seldom(this.facetCount(facet), this.docs.length, this.tools.figure);
  }

  codeRarity(code: string): number {
    return this.tools.codes.rarity(code, this.facetCount(`code:${code}`), this.docs.length);
  }

  /** The length of a document's TF-IDF vector. */
  norm(place: number): number {
    const known = this.norms[place]!;
    if (known >= 0) return known;
    const { terms, weights } = this.docs[place]!;
    let sum = 0;
    for (let n = 0; n < terms.length; n += 1) sum += (Math.log1p(weights[n]!) * this.idf[terms[n]!]!) ** 2;
    this.norms[place] = Math.sqrt(sum);
    return Math.sqrt(sum);
  }

  /** The question's distinct terms with weight: idf times use, divided among words that keep coming together. */
  termWeights(analysis: Analysis): ReadonlyMap<string, number> {
    const uses = [...this.tools.analyzer.weighted(analysis)];
    const numbers = uses.map(([term]) => this.tools.lexicon.number(term));
    const present = numbers.map((number) => this.presence(number));
    const crowd = crowding(present, uses.map(([, use]) => use), this.sampled.length, this.tools.figure);
    return new Map(
      uses.map(([term, use], n) => {
        const df = this.count(numbers[n]);
        return [term, (Math.log1p((this.docs.length - df + 0.5) / (df + 0.5)) * use) / crowd[n]!];
      }),
    );
  }

  /** How far words of these weights and the symptoms heard sound like each system, where one is none of the lists. */
  sounds({ weights, heard }: Said, leaveOut: ReadonlySet<string>, listed: ReadonlyMap<string, unknown>): ReadonlyMap<string, Sound> {
    const { lexicon, figure } = this.tools;
    if (this.systemSounds === undefined) {
      const named = this.docs.some(({ system }) => system !== null && !listed.has(system));
      this.systemSounds = named ? new SystemSounds(this.docs, this.idf, figure) : null;
    }
    if (!this.systemSounds) return new Map();
    const numbered = [...weights].map(([term, weight]) => [lexicon.number(term), weight] as const);
    const terms = new Map(numbered.filter((pair): pair is readonly [number, number] => this.count(pair[0]) > 0));
    const symptoms = new Map(heard.map(({ symptom, chance }) => [symptom, chance]));
    return this.systemSounds.sounds({ terms, symptoms }, [...leaveOut].flatMap((id) => this.doc(id) ?? []));
  }

  private presence(term: number | undefined): Uint8Array {
    const row = new Uint8Array(this.sampled.length);
    if (!this.count(term)) return row;
    const { starts, docs } = this.postings;
    let at = starts[term!]!;
    this.sampled.forEach((place, n) => {
      while (at < starts[term! + 1]! && docs[at]! < place) at += 1;
      if (at < starts[term! + 1]! && docs[at] === place) row[n] = 1;
    });
    return row;
  }

  private bm25(terms: ReadonlyMap<number, number>): Float64Array {
    const { figure } = this.tools;
    const [k1, b] = [figure("scoring", "K1"), figure("scoring", "B")];
    const scores = new Float64Array(this.docs.length);
    const { starts, docs, weights } = this.postings;
    for (const [term, weight] of terms) {
      if (weight <= 0 || !this.count(term)) continue;
      for (let at = starts[term]!; at < starts[term + 1]!; at += 1) {
        const place = docs[at]!;
        const tf = weights[at]!;
        scores[place]! += (weight * tf * (k1 + 1)) / (tf + k1 * (1 - b + (b * this.lengths[place]!) / this.meanLength));
      }
    }
    return scores;
  }

  /** Terms spelt like an asked one, not asked themselves. */
  private standIns(analysis: Analysis, weights: ReadonlyMap<string, number>): Map<number, number> {
    const { figure, book, lexicon, analyzer } = this.tools;
    const [standIn, least, most] = [figure("search", "STAND_IN"), figure("search", "LEAST_ALIKE"), figure("search", "MOST_ALIKE")];
    const found = new Map<number, number>();
    for (const word of new Set(analysis.words)) {
      const worth = standIn * (weights.get(stem(word)) ?? 0);
      if (worth <= 0) continue;
      for (const [number, like] of book.alike(word, (n) => (this.wordCounts[n] ?? 0) > 0, { least, most })) {
        const root = stem(book.words[number] ?? "");
        const term = analyzer.stop.has(root) || weights.has(root) ? undefined : lexicon.number(root);
        if (term !== undefined) found.set(term, Math.max(found.get(term) ?? 0, worth * like ** 2));
      }
    }
    return found;
  }

  private facetWeights({ codes, heard, systems, model }: Wanted): Map<string, number> {
    const { figure } = this.tools;
    const weights = new Map(codes.map((code) => [`code:${code}`, figure("index", "CODE") * this.codeRarity(code)]));
    for (const { symptom, chance } of heard) weights.set(`symptom:${symptom}`, figure("index", "SYMPTOM") * chance);
    if (model) for (const system of systems) weights.set(carFacet(model, system), figure("index", "CAR"));
    return weights;
  }

  /** Past cases worth comparing with the question, the most promising first. */
  candidates(wanted: Wanted, weights: ReadonlyMap<string, number>, leaveOut: ReadonlySet<string>): readonly Candidate[] {
    const numbered = new Map([...weights].map(([term, weight]) => [this.tools.lexicon.number(term) ?? -1, weight] as const).filter(([term]) => term >= 0));
    const [words, spelt] = [this.bm25(numbered), this.bm25(this.standIns(wanted.analysis, weights))];
    const may = this.evidence.slice();
    for (const id of leaveOut) {
      const place = this.places.get(id);
      if (place !== undefined) may[place] = 0;
    }
    const limit = this.tools.figure("causes", "COMPARED");
    let top = 0;
    for (let n = 0; n < may.length; n += 1) if (may[n] && words[n]! + spelt[n]! > top) top = words[n]! + spelt[n]!;
    const promise = new Float64Array(words.length);
    for (let n = 0; n < may.length; n += 1) promise[n] = (words[n]! + spelt[n]!) / (top || 1);
    for (const [facet, weight] of this.facetWeights(wanted)) for (const place of this.facets.get(facet) ?? []) promise[place]! += weight;
    for (let n = 0; n < may.length; n += 1) promise[n] = may[n] ? Math.round(promise[n]! * 1e9) / 1e9 : 0;
    const least = nthLargest(promise, limit);
    const ideal = [...weights.values()].reduce((sum, weight) => sum + weight, 0);
    const [share, plain] = [ideal > 0 ? 1 / ideal : 0, this.tools.figure("search", "PLAIN_SHARE")];
    const places: number[] = [];
    for (let n = 0; n < promise.length; n += 1) if (promise[n]! > 0 && promise[n]! >= least) places.push(n);
    const id = (n: number): string => this.docs[n]!.file.id;
    places.sort((a, b) => promise[b]! - promise[a]! || (id(a) < id(b) ? -1 : 1));
    return places.slice(0, limit).map((place) => ({
      doc: this.docs[place]!,
      place,
      words: partOfAll(words[place]! * share, plain),
      chars: partOfAll((words[place]! + spelt[place]!) * share, plain),
    }));
  }
}
