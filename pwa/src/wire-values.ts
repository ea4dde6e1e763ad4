/** What a case is made of, as it travels. */

import { either, flag, list, number, object, oneOf, or, orNull, record, text } from "./wire-parse";
import type { Parsed } from "./wire-parse";

export const parseMeasure = object({ value: number, unit: text });
export type Measure = Parsed<typeof parseMeasure>;

const parseScalar = either(number, either(text, flag));
const parseCondition = either(parseMeasure, parseScalar);
export type ConditionValue = Parsed<typeof parseCondition>;

/** What the VIN tells, and where that disagrees with what was typed. */
export const parseVinSays = object({
  year: orNull(number),
  maker: or(text, ""),
  year_note: or(text, ""),
  against: or(list(text), []),
});

export const parseVehicle = object({
  year: orNull(number),
  make: or(text, ""),
  model: or(text, ""),
  engine: or(text, ""),
  transmission: or(text, ""),
  odometer: orNull(parseMeasure),
  vin: orNull(text),
  traits: or(list(text), []),
  /** Fields that nobody typed: they were read from the VIN. */
  from_vin: or(list(oneOf("year", "make")), []),
  vin_says: orNull(parseVinSays),
});
export type Vehicle = Parsed<typeof parseVehicle>;

export const parseWhen = oneOf("before", "after");
export type When = Parsed<typeof parseWhen>;

const reading = {
  quantity: text,
  value: number,
  unit: text,
  point: or(text, ""),
  when: or(parseWhen, "before"),
  conditions: or(record(parseCondition), {}),
};
const test = {
  test: text,
  outcome: text,
  minutes: orNull(number),
  note: or(text, ""),
  part: orNull(text),
  fault_present: or(flag, true),
};
export const parseSource = oneOf("maker", "aftermarket", "rebuilt", "used", "own stock");
export type SourceKind = Parsed<typeof parseSource>;
export const SOURCES: readonly SourceKind[] = ["maker", "aftermarket", "rebuilt", "used", "own stock"];

export const parseResult = oneOf("cured", "partly", "no change", "failed later");
export type PartResult = Parsed<typeof parseResult>;
export const RESULTS: readonly PartResult[] = ["cured", "partly", "no change", "failed later"];

const part = {
  component: text,
  source: parseSource,
  price: orNull(number),
  result: orNull(parseResult),
  note: or(text, ""),
  charged: or(flag, true),
};

export const parseRepairResult = oneOf("cured", "partly", "no change");
export type RepairResult = Parsed<typeof parseRepairResult>;
export const REPAIR_RESULTS: readonly RepairResult[] = ["cured", "partly", "no change"];

export const SKIP_REASONS = ["no tool", "no right", "no access", "not now", "other"] as const;
export type SkipReason = (typeof SKIP_REASONS)[number];

export const OBJECTIONS = ["already renewed", "proved good", "not on this car", "does not fit"] as const;
export type Objection = (typeof OBJECTIONS)[number];

const repair = { cause: text, result: parseRepairResult, minutes: orNull(number), note: or(text, "") };
const skip = { test: text, because: or(oneOf(...SKIP_REASONS), "other"), note: or(text, "") };
const objection = { cause: text, because: oneOf(...OBJECTIONS), note: or(text, "") };

/** Who did a step and when; null where the service does not know. */
const stamp = { id: text, at: orNull(text), by: orNull(text) };

export const parseReading = object(reading);
export type Reading = Parsed<typeof parseReading>;
export const parseReadingStep = object({ ...stamp, ...reading });
export type ReadingStep = Parsed<typeof parseReadingStep>;

export const parseTest = object(test);
export type TestDone = Parsed<typeof parseTest>;
export const parseTestStep = object({ ...stamp, ...test });
export type TestStep = Parsed<typeof parseTestStep>;

export const parsePart = object(part);
export const parsePartStep = object({ ...stamp, ...part });
export type PartStep = Parsed<typeof parsePartStep>;

/** A repair without a new part, and what it did. */
export const parseRepairStep = object({ ...stamp, ...repair });
export type RepairStep = Parsed<typeof parseRepairStep>;
/** A proposed test that was not done, and why. */
export const parseSkipStep = object({ ...stamp, ...skip });
export type SkipStep = Parsed<typeof parseSkipStep>;
/** A proposed cause the member holds to be wrong, and why. */
export const parseObjectionStep = object({ ...stamp, ...objection });
export type ObjectionStep = Parsed<typeof parseObjectionStep>;

export const parsePhoto = object({
  ...stamp,
  type: text,
  bytes: number,
  note: or(text, ""),
  step: orNull(text),
});
export type PhotoStep = Parsed<typeof parsePhoto>;

export const parseCorrection = object({ action: or(text, ""), component: orNull(text), text: or(text, "") });
export type Correction = Parsed<typeof parseCorrection>;

export const parseLabour = object({
  diagnosis_min: or(number, 0),
  repair_min: or(number, 0),
  not_billed_min: or(number, 0),
  rate_per_hour: orNull(number),
});
export type Labour = Parsed<typeof parseLabour>;

export const parseCost = object({
  parts: or(number, 0),
  labour: or(number, 0),
  other: or(number, 0),
  total: or(number, 0),
  currency: or(text, ""),
});
export type Cost = Parsed<typeof parseCost>;
