/** A case made ready for being found: weighted terms, written words, facets and the symptoms heard. */

import type { Case, Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import type { Analysis, Analyzer } from "./analyze";
import type { Car } from "./cars";
import { figuresOf } from "./figures";
import { nameKey } from "./names";
import type { JudgedReading, Meter } from "./readings";
import type { Spotter } from "./symptoms";

export interface CaseDoc {
  readonly file: Case;
  readonly car: Car;
  readonly terms: Int32Array;
  readonly weights: Float32Array;
  /** Numbers in the book of written words. */
  readonly words: Int32Array;
  readonly length: number;
  readonly facets: ReadonlySet<string>;
  readonly symptoms: ReadonlyMap<string, number>;
  readonly judged: readonly JudgedReading[];
  readonly system: string | null;
}

/** What was read of a case's text: kept, so that it is read once. */
export interface CaseText {
  readonly terms: readonly (readonly [term: string, weight: number])[];
  readonly words: readonly string[];
  readonly symptoms: readonly (readonly [symptom: string, chance: number])[];
}

/** Numbers for terms, in the order of first sight. */
export class Lexicon {
  readonly terms: string[] = [];
  private readonly numbers = new Map<string, number>();

  number(term: string): number | undefined {
    return this.numbers.get(term);
  }

  add(term: string): number {
    const known = this.numbers.get(term);
    if (known !== undefined) return known;
    this.numbers.set(term, this.terms.length);
    return this.terms.push(term) - 1;
  }
}

export const carOf = (vehicle: Partial<Car>): Car => ({
  year: vehicle.year ?? null,
  make: vehicle.make ?? "",
  model: vehicle.model ?? "",
  engine: vehicle.engine ?? "",
  transmission: vehicle.transmission ?? "",
  vin: vehicle.vin ?? null,
  traits: vehicle.traits ?? [],
});

export const carFacet = (model: string, system: string): string => `car:${nameKey(model)}|${system}`;

/** Given symptoms at 1, heard ones beside them. */
export const withGiven = (given: readonly string[], heard: readonly { readonly symptom: string; readonly chance: number }[]): Map<string, number> =>
  new Map([...heard.map(({ symptom, chance }) => [symptom, chance] as const), ...given.map((symptom) => [symptom, 1] as const)]);

export type ReadText = (file: Case) => CaseText;

export function textReader(lists: Lists, trade: Trade, { analyze, weighted }: Analyzer, spotter: Spotter): ReadText {
  const figure = figuresOf(lists.numbers);
  const at = (name: string): number => figure("casedoc", name);
  const [complaint, title, cause, note, symptom, step, surely] = ["COMPLAINT", "TITLE", "CAUSE", "NOTE", "SYMPTOM", "STEP", "SURELY_HEARD"].map(at) as [number, number, number, number, number, number, number];
  const causes = new Map(trade.causes.map((one) => [one.id, one.title]));
  const symptoms = new Map(trade.symptoms.map((one) => [one.id, one.title]));

  const stepNotes = (file: Case): string => [...file.tests, ...file.parts, ...file.repairs].map((each) => each.note).join(" . ");

  function others(file: Case, heard: ReadonlyMap<string, number>): (readonly [string, number])[] {
    const surelyHeard = [...heard].filter(([id, chance]) => chance >= surely && symptoms.has(id));
    return [
      [file.title, title],
      [file.cause_title || (causes.get(file.cause ?? "") ?? ""), cause],
      [file.note, note],
      [file.correction?.text ?? "", note],
      [file.codes.join(" "), note],
      [stepNotes(file), step],
      ...surelyHeard.map(([id, chance]) => [symptoms.get(id) ?? "", symptom * chance] as const),
    ];
  }

  return (file) => {
    const said = analyze(file.complaint);
    const heard = withGiven(file.symptoms, spotter.hear(said));
    const counts = new Map<string, number>();
    const words = new Set<string>();
    const read = (analysis: Analysis, weight: number): void => {
      analysis.words.forEach((word) => words.add(word));
      for (const [term, uses] of weighted(analysis)) counts.set(term, (counts.get(term) ?? 0) + weight * uses);
    };
    read(said, complaint);
    for (const [text, weight] of others(file, heard)) read(analyze(text), weight);
    return { terms: [...counts], words: [...words], symptoms: [...heard] };
  };
}

export function systemOf({ cause, cause_system }: Case, systems: ReadonlyMap<string, string>): string | null {
  return cause_system || (systems.get(cause ?? "") ?? null);
}

interface DocTools {
  readonly lexicon: Lexicon;
  readonly add: (word: string) => number;
  readonly meter: Meter;
  /** The system of each listed cause. */
  readonly systems: ReadonlyMap<string, string>;
  readonly surely: number;
}

export function docOf(file: Case, text: CaseText, { lexicon, add, meter, systems, surely }: DocTools): CaseDoc {
  const numbered = text.terms.map(([term, weight]) => [lexicon.add(term), weight] as const).sort(([a], [b]) => a - b);
  const system = systemOf(file, systems);
  const facets = new Set([
    ...file.codes.map((code) => `code:${code}`),
    ...text.symptoms.filter(([, chance]) => chance >= surely).map(([id]) => `symptom:${id}`),
    ...(system === null ? [] : [carFacet(file.vehicle.model, system)]),
  ]);
  return {
    file,
    car: carOf(file.vehicle),
    terms: Int32Array.from(numbered, ([number]) => number),
    weights: Float32Array.from(numbered, ([, weight]) => weight),
    words: Int32Array.from(text.words, add),
    length: text.terms.reduce((sum, [, weight]) => sum + weight, 0),
    facets,
    symptoms: new Map(text.symptoms),
    judged: meter.judgeAll(file.readings.filter(({ when }) => when === "before")),
    system,
  };
}
