/** The answer to a complaint, as it travels. */

import { either, flag, list, number, object, oneOf, or, orNull, record, text } from "./wire-parse";
import type { Parsed, Parser } from "./wire-parse";
import { parseSource, parseVehicle } from "./wire-values";

const texts = or(list(text), []);

const parseWhy = object({
  words: texts,
  codes: texts,
  symptoms: texts,
  vehicle: or(text, ""),
  readings: texts,
  tests: texts,
});
export type Why = Parsed<typeof parseWhy>;

const correctionText: Parser<string> = (value, at) => {
  const given = either(text, object({ text: or(text, ""), action: or(text, "") }))(value, at);
  return typeof given === "string" ? given : given.text || given.action;
};

export const parseSimilar = object({
  case: text,
  title: or(text, ""),
  chance: number,
  cause: orNull(text),
  cause_title: or(text, ""),
  correction: orNull(correctionText),
  vehicle: or(text, ""),
  state: or(text, ""),
  why: parseWhy,
});
/** A past case and the chance that it has the same cause. */
export type Similar = Parsed<typeof parseSimilar>;

const parseCauseChance = object({
  cause: text,
  title: text,
  probability: number,
  cases: or(number, 0),
  system: orNull(text),
  from: or(text, ""),
  moved: or(list(object({ by: text, factor: number })), []),
  from_cases: texts,
});
export type CauseChance = Parsed<typeof parseCauseChance>;

const parseOutcomeChance = object({
  outcome: text,
  means: or(text, ""),
  probability: number,
  then_cause: orNull(text),
  names_part: or(flag, false),
  then: or(list(object({ cause: text, title: or(text, ""), probability: number })), []),
});
export type OutcomeChance = Parsed<typeof parseOutcomeChance>;

const parseNextTest = object({
  test: text,
  title: text,
  minutes: number,
  saves: number,
  setup: or(text, ""),
  tells_apart: texts,
  cautions: texts,
  skill: or(number, 1),
  allowed: or(flag, true),
  note: or(text, ""),
  why: or(text, ""),
  outcomes: or(list(parseOutcomeChance), []),
});
export type NextTest = Parsed<typeof parseNextTest>;

const money = object({ amount: number, currency: text });
/** A cost is a plain number beside `currency`, or an amount that carries its own. */
const parseCostNumber: Parser<number> = (value, at) => {
  const cost = either(money, number)(value, at);
  return typeof cost === "number" ? cost : cost.amount;
};

const parseNext = object({
  do: oneOf("test", "replace", "ask", "refer"),
  why: or(text, ""),
  test: orNull(text),
  cause: orNull(text),
  title: orNull(text),
  component: orNull(text),
  part_source: orNull(parseSource),
  expected_cost: orNull(parseCostNumber),
  currency: orNull(text),
  question: orNull(text),
  options: or(list(object({ symptom: text, title: text })), []),
});
export type Next = Parsed<typeof parseNext>;

const parseBand = object({ low: orNull(number), high: orNull(number), unit: text });
export type Band = Parsed<typeof parseBand>;

export const parseJudged = object({
  quantity: text,
  value: orNull(number),
  unit: or(text, ""),
  point: or(text, ""),
  expected: orNull(parseBand),
  verdict: text,
  good: orNull(flag),
  why: or(text, ""),
  source: or(text, ""),
  needs: texts,
});
export type Judged = Parsed<typeof parseJudged>;
export const parseJudgedList = object({ readings: list(parseJudged) });

const parseCar = object({
  vehicle: parseVehicle,
  origins: or(record(oneOf("typed", "vin", "words")), {}),
  engines: texts,
});
/** The car the answer is for, and where each part of it comes from. */
export type AdvisedCar = Parsed<typeof parseCar>;

const parseHeard = object({ symptom: text, title: or(text, ""), chance: orNull(number) });
export type HeardSymptom = Parsed<typeof parseHeard>;

const parseDropped = object({ cause: text, title: text, before: number, after: number, by: or(text, "") });
export type Dropped = Parsed<typeof parseDropped>;

/** The kind is for the machine; the text says it, so an unknown kind is as good as a known one. */
const parseConflict = object({ kind: or(text, ""), text, remedy: or(text, ""), steps: texts });
export type Conflict = Parsed<typeof parseConflict>;

const parseRuledOut = object({
  test: text,
  title: text,
  means: or(text, ""),
  times: or(number, 1),
  minutes: orNull(number),
  causes: texts,
});
export type RuledOut = Parsed<typeof parseRuledOut>;

const parsePrice = object({ cases: number, low: number, middle: number, high: number, currency: text });
export type PriceSpan = Parsed<typeof parsePrice>;

const parseCallAnswer = object({ title: text, symptom: orNull(text), condition: orNull(text) });
export type CallAnswer = Parsed<typeof parseCallAnswer>;

const parseCallQuestion = object({ question: text, why: or(text, ""), answers: or(list(parseCallAnswer), []) });
export type CallQuestion = Parsed<typeof parseCallQuestion>;

/** `at` is where the typed words begin in the complaint; null where no word of it changed. */
const parseReadAs = object({ typed: text, read: text, kind: or(text, "sense"), at: orNull(number) });
export type ReadAs = Parsed<typeof parseReadAs>;

export const parseAdvice = object({
  cases: list(parseSimilar),
  causes: list(parseCauseChance),
  unlisted: number,
  tests: list(parseNextTest),
  next: parseNext,
  readings: or(list(parseJudged), []),
  read_as: or(list(parseReadAs), []),
  cautions: texts,
  symptoms: or(list(parseHeard), []),
  dropped: or(list(parseDropped), []),
  conflicts: or(list(parseConflict), []),
  ruled_out: or(list(parseRuledOut), []),
  price: orNull(parsePrice),
  questions: or(list(parseCallQuestion), []),
  car: orNull(parseCar),
  revision: number,
});
export type Advice = Parsed<typeof parseAdvice>;
