/** What the service hands out for reckoning without signal: its figures, words and tables. */

type Numbers = Readonly<Record<string, number>>;
type Table<T> = Readonly<Record<string, T>>;

/** Every plain number of the engine, by where it is at home there. */
export type Figures = Table<Numbers>;

export interface Lists {
  readonly format: number;
  readonly numbers: Figures;
  readonly words: {
    readonly stop: readonly string[];
    readonly negators: readonly string[];
    readonly light: readonly string[];
    /** Group terms of a stem: "=cold" for "cool". */
    readonly kindred: Table<readonly string[]>;
    readonly ordinary: readonly string[];
    readonly not_evidence: readonly string[];
    readonly everyday: Numbers;
    readonly own: readonly string[];
    readonly phrases: readonly (readonly [said: string, read: string, kind: "misheard" | "translated"])[];
    readonly endings: Table<readonly string[]>;
    readonly grown: readonly string[];
    readonly shortest: number;
  };
  readonly measures: {
    readonly units: Table<string>;
    readonly only_glued: readonly string[];
    readonly to_base: Table<readonly [factor: number, base: string]>;
    readonly times: readonly string[];
    readonly small: readonly string[];
    readonly tens: Numbers;
  };
  readonly abbreviations: readonly (readonly [
    forms: readonly string[],
    kind: string,
    senses: readonly (readonly [plain: string, refersTo: string | null, decideBy: string])[],
  ])[];
  readonly codes: {
    readonly powertrain: Table<readonly string[]>;
    readonly by_letter: Table<readonly string[]>;
    readonly common: readonly string[];
    readonly low_voltage: readonly string[];
  };
  readonly car: {
    readonly traits: readonly (readonly [pattern: string, traits: readonly string[]])[];
    readonly trait_titles: Table<string>;
    readonly excludes: Table<readonly string[]>;
    readonly combustion_only: readonly string[];
    readonly diesel: string;
    readonly petrol: string;
    readonly steps: readonly string[];
    readonly steps_of_the_make: readonly string[];
  };
  readonly conditions: {
    readonly listed: Table<string>;
    readonly opposites: readonly (readonly [string, string])[];
    readonly of_symptom: Table<readonly string[]>;
    /** Patterns of conditions plainly said. */
    readonly said_as: Table<string>;
  };
  readonly symptoms: { readonly weights: readonly number[]; readonly passing: readonly string[] };
  readonly causes: {
    readonly place_factors: readonly number[];
    readonly not_by_part: readonly string[];
    readonly lean: Table<Numbers>;
    readonly part_price: Numbers;
    readonly safety: readonly string[];
    readonly drives: Table<readonly string[]>;
    readonly objections: Numbers;
    /** Chances that a part is dead, half works, fails later. */
    readonly sources: Table<readonly [number, number, number]>;
    readonly repair: readonly [number, number, number];
    readonly elsewhere: Numbers;
    readonly elsewhere_away: Numbers;
    readonly two_show_as: Numbers;
    readonly sound_sources: readonly string[];
  };
  /** What a test does to the car and asks of it: c(old), w(arm), r(uns), d(isconnects), m(emory). */
  readonly tests: Table<string>;
  readonly instruments: Numbers;
  readonly not_to_drive: readonly string[];
  readonly calls: {
    readonly wordings: readonly Wording[];
    /** How many of them, from the first, part complaints that go by one name. */
    readonly which: number;
    /** The pattern of words that say the fault is not always there. */
    readonly hides: string;
    readonly unsafe: readonly string[];
  };
  /** Tables behind readings that follow from others. */
  readonly worked: {
    /** Of a voltage drop: the condition that holds its current, and the quantity that measures it ("" for none). */
    readonly current_of: Table<readonly [condition: string, quantity: string]>;
    readonly coils: readonly string[];
    readonly fuse_ohm: readonly (readonly [number, number])[];
    readonly fuse_spread: number;
    /** Rest volts and percent of charge. */
    readonly charge: readonly (readonly [number, number])[];
    readonly charge_v_per_k: number;
    readonly charge_at_c: number;
    readonly coldest_c: number;
    readonly step_k: number;
    /** Of a gas, absolute, from the coldest up. */
    readonly saturation_kpa: Table<readonly number[]>;
  };
}

export interface WordedAnswer {
  readonly title: string;
  readonly symptom: string | null;
  readonly condition: string | null;
  readonly shows: readonly string[];
}

/** A question for the phone as it is worded, and for which complaints it is asked. */
export interface Wording {
  readonly kind: "which" | "also" | "hint" | "when" | "danger";
  readonly question: string;
  readonly answers: readonly WordedAnswer[];
  readonly among: readonly string[];
  readonly unless: readonly string[];
  /** Patterns: what customers call all of them alike, and words that say which. */
  readonly name: string;
  readonly settled: string;
}

export interface Taught {
  readonly format: number;
  readonly revision: number;
  readonly match: { readonly bias: number; readonly weights: Numbers; readonly version: string };
  readonly temperature: number;
  readonly trust: number;
  readonly rate_per_hour: number;
  readonly currency: string;
  /** What one unit of a listed price is in the shop's currency. */
  readonly listed_rate: number;
  readonly rights_needed: readonly (readonly [what: string, right: string])[];
  readonly lacking: Table<string>;
  readonly ways: Table<{ readonly source: string; readonly expected_cost: number | null }>;
}

export const REASONING_FORMAT = 6;
export const REASONING_PARTS = ["lists", "shop"] as const;
export type ReasoningPart = (typeof REASONING_PARTS)[number];

export interface ReasoningBody {
  readonly lists: Lists;
  readonly shop: Taught;
}
