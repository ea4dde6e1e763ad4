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
    readonly misheard: readonly (readonly [heard: string, meant: string])[];
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
    readonly excludes: Table<readonly string[]>;
    readonly combustion_only: readonly string[];
    readonly diesel: string;
    readonly petrol: string;
    readonly steps: readonly string[];
  };
  readonly conditions: {
    readonly listed: Table<string>;
    readonly opposites: readonly (readonly [string, string])[];
    readonly of_symptom: Table<readonly string[]>;
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

export const REASONING_FORMAT = 1;
export const REASONING_PARTS = ["lists", "shop"] as const;
export type ReasoningPart = (typeof REASONING_PARTS)[number];

export interface ReasoningBody {
  readonly lists: Lists;
  readonly shop: Taught;
}
