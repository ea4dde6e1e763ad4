/** Past cases by the chance that they have the same cause, with what they share. */

import type { TestBody, TradeTest } from "../wire";
import type { Engine } from "./engine";
import type { Candidate, Memory } from "./memory";
import type { CaseDoc } from "./casedoc";
import type { Nearness } from "./nearness";
import type { Question } from "./question";
import type { Sound } from "./system-sounds";

export interface Match {
  readonly doc: CaseDoc;
  readonly chance: number;
  /** By likeness without tests. */
  readonly before: number;
  readonly shared: Shared;
}

export interface Shared {
  readonly codes: readonly string[];
  readonly symptoms: readonly string[];
  readonly vehicle: string;
}

const anyOf = (chances: readonly number[]): number => 1 - chances.reduce((missing, chance) => missing * (1 - chance), 1);

/** How much an outcome says: 1 less its chance on a car with any other fault. */
function telling(test: TradeTest | undefined, outcome: string, unlisted: number): number {
  const rest = test?.likelihood.find(({ causes }) => !causes.length);
  return rest ? 1 - (rest.p[outcome] ?? unlisted) : unlisted;
}

interface Agreed {
  readonly agree: number;
  readonly contradict: number;
}

export type Done = Pick<TestBody, "test" | "outcome" | "fault_present"> & { readonly part?: string | null };

const sameOutcome = (one: Done, other: Done): boolean => one.outcome === other.outcome && (!one.part || !other.part || one.part === other.part);

/** The last doings of the tests done on both cars. */
function doneOnBoth(asked: readonly Done[], past: readonly Done[]): readonly (readonly [Done, Done])[] {
  const theirs = new Map(past.map((done) => [done.test, done]));
  return [...new Map(asked.map((done) => [done.test, done])).values()].flatMap((one) => {
    const other = theirs.get(one.test);
    return other ? [[one, other] as const] : [];
  });
}

/** The outcomes that agree, in words. */
export function agreeingTests(asked: readonly Done[], past: readonly Done[], { tests }: Engine): readonly string[] {
  const words = ({ test, outcome }: Done): string => {
    const known = tests.get(test);
    return `${known?.title ?? test}: ${known?.outcomes.find(({ id }) => id === outcome)?.means ?? outcome}`;
  };
  return doneOnBoth(asked, past).filter(([one, other]) => sameOutcome(one, other)).map(([one]) => words(one)).sort();
}

function compareTests(asked: readonly Done[], past: readonly Done[], engine: Engine): Agreed {
  const unlisted = engine.figure("tests", "UNLISTED");
  let [agree, contradict] = [0, 0];
  for (const [one, other] of asked.length ? doneOnBoth(asked, past) : []) {
    const test = engine.tests.get(one.test);
    const says = Math.max(telling(test, one.outcome, unlisted), telling(test, other.outcome, unlisted));
    if (sameOutcome(one, other)) agree += says;
    else if ((one.fault_present ?? true) && (other.fault_present ?? true)) contradict += says;
  }
  return { agree, contradict };
}

/** In the order they are summed in; names ending in "_apart" count against. */
const featuresOf = (carSteps: readonly string[]): readonly string[] => [
  ...["words", "cosine", "chars", "symptoms", "symptoms_apart", "codes", "codes_apart"],
  ...carSteps.map((step) => `car_${step}`),
  ...["readings", "readings_apart", "tests", "tests_apart", "system", "part"],
];

interface Context {
  readonly engine: Engine;
  readonly memory: Memory;
  /** What each term of the question says. */
  readonly weights: ReadonlyMap<string, number>;
  readonly sounds: ReadonlyMap<string, Sound>;
}

/** The question made ready for many comparisons. */
class Asked {
  private readonly engine: Engine;
  private readonly memory: Memory;
  private readonly sounds: ReadonlyMap<string, Sound>;
  private readonly near = new Map<string, Nearness>();
  private readonly symptoms: ReadonlyMap<string, number>;
  private readonly brief: number;
  private readonly surest: number;
  private readonly leastSaid: number;
  /** The weight of each asked term by its number, 0 for all others. */
  private readonly terms: Float64Array;
  private readonly length: number;
  /** What each step towards the same car says here: little of a make that most cases have. */
  private readonly stepWorth: readonly number[];

  constructor(
    private readonly question: Question,
    { engine, memory, weights, sounds }: Context,
  ) {
    [this.engine, this.memory, this.sounds] = [engine, memory, sounds];
    this.symptoms = new Map(question.heard.map(({ symptom, chance }) => [symptom, chance]));
    this.leastSaid = engine.figure("features", "LEAST_SAID");
    this.surest = Math.max(0, ...this.symptoms.values());
    this.brief = Math.min(1, engine.figure("features", "BRIEF") / Math.max(question.analysis.stems.length, 1));
    const [make, model] = memory.cars.rarity(question.car, engine.figure);
    this.stepWorth = engine.carSteps.map((step) => (engine.stepsOfTheMake.includes(step) ? make : model));
    const { lexicon } = memory.tools;
    this.terms = new Float64Array(lexicon.terms.length);
    let squares = 0;
    for (const [term, weight] of weights) {
      const number = lexicon.number(term);
      if (number === undefined) continue;
      this.terms[number] = weight;
      squares += weight * weight;
    }
    this.length = Math.sqrt(squares);
  }

  private cosine({ doc, place }: Candidate): number {
    const { terms, weights } = doc;
    let dot = 0;
    for (let n = 0; n < terms.length; n += 1) {
      const asked = this.terms[terms[n]!]!;
      if (asked !== 0) dot += asked * Math.log1p(weights[n]!) * this.memory.idf[terms[n]!]!;
    }
    const length = this.length * this.memory.norm(place);
    return length > 0 ? dot / length : 0;
  }

  private nearness({ car }: CaseDoc): Nearness {
    const key = [car.make, car.model, car.year, car.engine, car.vin].join("\u001f");
    const known = this.near.get(key) ?? this.engine.carSense.near(this.question.car, this.memory.cars.sameSpelling(car));
    this.near.set(key, known);
    return known;
  }

  /** How alike the stories are, by words and by symptoms, half each; by words where none was heard. */
  private stories({ words }: Candidate, shared: readonly (readonly [string, number])[]): number {
    return this.symptoms.size ? (words + this.brief * anyOf(shared.map(([, chance]) => chance))) / 2 : words;
  }

  /**
   * How far the case's system is suspected; where it is none of the lists, the likeness of the stories stands in.
   * In a shop with systems of its own it counts too how far the story sounds like the case's system.
   */
  private system(candidate: Candidate, shared: readonly (readonly [string, number])[]): number {
    const system = candidate.doc.system ?? "";
    const listed = this.engine.systems.has(system);
    const otherwise = listed ? Math.sqrt(this.question.systems.get(system) ?? 0) : this.stories(candidate, shared);
    const sound = this.sounds.get(system);
    if (!sound) return otherwise;
    const heard = Math.sqrt(sound.share);
    return sound.known * (listed ? heard : Math.sqrt(heard * otherwise)) + (1 - sound.known) * otherwise;
  }

  private part({ file }: CaseDoc): number {
    const component = this.engine.causes.get(file.cause ?? "")?.component;
    return component === undefined ? 0 : (this.question.mentioned.find((each) => each.component === component)?.weight ?? 0);
  }

  private sharedSymptoms(doc: CaseDoc): readonly (readonly [string, number])[] {
    const shared: (readonly [string, number])[] = [];
    for (const [id, chance] of this.symptoms) {
      const both = chance * (doc.symptoms.get(id) ?? 0);
      if (both >= this.leastSaid) shared.push([id, both]);
    }
    return shared;
  }

  /** What is shared, in the order of `featuresOf`; and the same in words. */
  features(candidate: Candidate): { readonly values: readonly number[]; readonly shared: Shared } {
    const { doc, words, chars } = candidate;
    const { body, codes, judged } = this.question;
    const said = this.sharedSymptoms(doc);
    const near = this.nearness(doc);
    const sharedCodes = codes.filter((code) => doc.file.codes.includes(code));
    const readings = judged.length && doc.judged.length ? this.engine.meter.agreement(judged, doc.judged) : { agree: 0, contradict: 0 };
    const tests = compareTests(body.tests ?? [], doc.file.tests, this.engine);
    let own = 0;
    for (const chance of doc.symptoms.values()) own = Math.max(own, chance);
    const values = [
      words,
      this.cosine(candidate),
      chars,
      this.brief * anyOf(said.map(([id, chance]) => chance * this.memory.facetSeldom(`symptom:${id}`))),
      this.brief * this.surest * own * (1 - anyOf(said.map(([, chance]) => chance))),
      anyOf(sharedCodes.map((code) => this.memory.codeRarity(code))),
      Number(codes.length > 0 && doc.file.codes.length > 0 && !sharedCodes.length),
      ...near.steps.map((step, n) => step * this.stepWorth[n]!),
      -Math.expm1(-readings.agree),
      -Math.expm1(-readings.contradict),
      -Math.expm1(-tests.agree),
      -Math.expm1(-tests.contradict),
      this.system(candidate, said),
      this.question.mentioned.length ? this.brief * this.part(doc) : 0,
    ];
    return { values, shared: { codes: sharedCodes, symptoms: said.map(([id]) => id), vehicle: near.why } };
  }
}

export const byChance = (a: Match, b: Match): number => b.chance - a.chance || (a.doc.file.id < b.doc.file.id ? -1 : 1);

/** The candidates as matches, the surest first. */
export function matchesOf(question: Question, candidates: readonly Candidate[], context: Context): readonly Match[] {
  const { engine } = context;
  const asked = new Asked(question, context);
  const { bias, weights: worth } = engine.taught.match;
  const [least, most] = [engine.figure("weights", "LEAST"), engine.figure("weights", "MOST")];
  const signed = featuresOf(engine.carSteps).map((name) => ({ weight: (name.endsWith("_apart") ? -1 : 1) * (worth[name] ?? 0), ofTests: name.startsWith("tests") }));
  const sure = (score: number): number => Math.min(Math.max(1 / (1 + Math.exp(-score)), least), most);
  function chances(values: readonly number[]): Pick<Match, "chance" | "before"> {
    let [score, before] = [bias, bias];
    signed.forEach(({ weight, ofTests }, n) => {
      const part = weight * values[n]!;
      score += part;
      if (!ofTests) before += part;
    });
    return { chance: sure(score), before: sure(before) };
  }
  const matches = candidates.map((candidate) => {
    const { values, shared } = asked.features(candidate);
    return { doc: candidate.doc, ...chances(values), shared };
  });
  return matches.sort(byChance);
}
