/** The shipped trade lists, as they travel; fields the phone does not use are left out. */

import { either, flag, list, number, object, oneOf, or, orNull, record, text } from "./wire-parse";
import type { Parsed, Parser } from "./wire-parse";

const texts = or(list(text), []);
const bound = orNull(either(number, text));

export const parseSystem = object({
  id: text,
  title: text,
  description: or(text, ""),
  cautions: texts,
  components: texts,
});
export type System = Parsed<typeof parseSystem>;

export const parseComponent = object({ id: text, title: text, system: or(text, ""), also: texts });
export type Component = Parsed<typeof parseComponent>;

export const parseSymptom = object({
  id: text,
  title: text,
  systems: texts,
  said_by_customer: texts,
  written_by_tech: texts,
  misheard_or_typo: texts,
  conditions: texts,
});
export type Symptom = Parsed<typeof parseSymptom>;

export const parseTradeCondition = object({
  id: text,
  title: text,
  unit: orNull(text),
  also: texts,
  default: bound,
});
export type TradeCondition = Parsed<typeof parseTradeCondition>;

const parseExpected = object({
  kind: oneOf("constant", "formula", "table", "maker"),
  low: bound,
  high: bound,
  uses: texts,
  by: orNull(text),
  choose_by: orNull(text),
  tolerance: or(number, 0),
  points: or(record(list(list(number))), {}),
  note: or(text, ""),
});
export type Expected = Parsed<typeof parseExpected>;

export const parseQuantity = object({
  id: text,
  title: text,
  unit: text,
  accepted_units: texts,
  test_point: or(text, ""),
  conditions: texts,
  hard_low: orNull(number),
  hard_high: orNull(number),
  expected: parseExpected,
  verdicts: texts,
  source: or(text, ""),
  ladder: texts,
  edges: or(list(either(number, text)), []),
  good: texts,
});
export type Quantity = Parsed<typeof parseQuantity>;

const parseRule = object({
  quantity: text,
  unit: or(text, ""),
  min: bound,
  max: bound,
  above: bound,
  below: bound,
});
export type OutcomeRule = Parsed<typeof parseRule>;

const parseOutcome = object({
  id: text,
  means: or(text, ""),
  rule: orNull(parseRule),
  names_part: or(flag, false),
});
export type Outcome = Parsed<typeof parseOutcome>;

const parseLikelihood = object({ name: or(text, ""), causes: texts, p: record(number) });

const parseVehicleState = object({ key: text, raised: or(flag, false), battery: or(text, ""), wheels: or(text, "") });

export const parseTradeTest = object({
  id: text,
  title: text,
  system: text,
  offer_for: texts,
  for_symptoms: texts,
  only_if: texts,
  decides: texts,
  state: orNull(parseVehicleState),
  tools: texts,
  setup_min: or(number, 0),
  do_min: or(number, 0),
  skill: or(number, 1),
  quantity: orNull(text),
  also_read: texts,
  steps: texts,
  outcomes: or(list(parseOutcome), []),
  likelihood: or(list(parseLikelihood), []),
  cautions: texts,
  own: or(flag, false),
  /** Taken off the list; kept for the cases that did it. */
  retired: or(flag, false),
});
export type TradeTest = Parsed<typeof parseTradeTest>;

export const parseTradeCause = object({
  id: text,
  title: text,
  component: or(text, ""),
  mode: or(text, ""),
  system: text,
  weight: or(number, 1),
  confirm_test: orNull(text),
  fix: or(text, ""),
  labour_low_h: or(number, 0),
  labour_high_h: or(number, 0),
  symptoms: texts,
  only_if: texts,
  own: or(flag, false),
});
export type TradeCause = Parsed<typeof parseTradeCause>;

export const parseCaution = object({ id: text, title: text, text: or(text, ""), always: or(text, "") });
export type Caution = Parsed<typeof parseCaution>;

/** A word that is right as the shop writes it; `means` is the plain term it stands for, empty for none. */
export const parseOwnWord = object({ id: text, means: or(text, ""), by: or(text, ""), yours: or(flag, false) });
export type OwnWord = Parsed<typeof parseOwnWord>;

export const TRADE_LISTS = [
  "systems",
  "components",
  "symptoms",
  "quantities",
  "conditions",
  "tests",
  "causes",
  "cautions",
  "words",
] as const;
export type TradeList = (typeof TRADE_LISTS)[number];

export interface Trade {
  readonly systems: readonly System[];
  readonly components: readonly Component[];
  readonly symptoms: readonly Symptom[];
  readonly quantities: readonly Quantity[];
  readonly conditions: readonly TradeCondition[];
  readonly tests: readonly TradeTest[];
  readonly causes: readonly TradeCause[];
  readonly cautions: readonly Caution[];
  readonly words: readonly OwnWord[];
}

type TradeParsers = { readonly [K in TradeList]: Parser<Trade[K][number]> };

export const TRADE_PARSERS: TradeParsers = {
  systems: parseSystem,
  components: parseComponent,
  symptoms: parseSymptom,
  quantities: parseQuantity,
  conditions: parseTradeCondition,
  tests: parseTradeTest,
  causes: parseTradeCause,
  cautions: parseCaution,
  words: parseOwnWord,
};

export const EMPTY_TRADE: Trade = {
  systems: [],
  components: [],
  symptoms: [],
  quantities: [],
  conditions: [],
  tests: [],
  causes: [],
  cautions: [],
  words: [],
};

/** One list's answer: `parseTradeAnswer("tests")`. */
export const parseTradeAnswer = <K extends TradeList>(name: K): Parser<{ version: string; items: Trade[K] }> => {
  const item = TRADE_PARSERS[name] as Parser<Trade[K][number]>;
  return object({ version: text, items: list(item) }) as unknown as Parser<{ version: string; items: Trade[K] }>;
};
