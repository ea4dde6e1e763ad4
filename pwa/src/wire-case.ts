/** Cases and the change log, as they travel. */

import { anything, flag, isObject, list, number, object, oneOf, or, orNull, text } from "./wire-parse";
import type { Parsed, Parser } from "./wire-parse";
import * as values from "./wire-values";

export const parseState = oneOf("open", "closed", "unresolved");
export type CaseState = Parsed<typeof parseState>;

export const parseUnresolved = oneOf("no fault found", "declined", "referred");
export type UnresolvedReason = Parsed<typeof parseUnresolved>;
export const UNRESOLVED: readonly UnresolvedReason[] = ["no fault found", "declined", "referred"];

const NO_LABOUR: values.Labour = { diagnosis_min: 0, repair_min: 0, not_billed_min: 0, rate_per_hour: null };
const NO_COST: values.Cost = { parts: 0, labour: 0, other: 0, total: 0, currency: "" };
export const NO_VEHICLE: values.Vehicle = {
  year: null,
  make: "",
  model: "",
  engine: "",
  transmission: "",
  odometer: null,
  vin: null,
  traits: [],
  from_vin: [],
  vin_says: null,
};

const brief = {
  id: text,
  state: parseState,
  revision: number,
  title: or(text, ""),
  opened: orNull(text),
  closed: orNull(text),
  updated: orNull(text),
  complaint: text,
  vehicle: or(values.parseVehicle, NO_VEHICLE),
  symptoms: or(list(text), []),
  codes: or(list(text), []),
  comes_and_goes: or(flag, false),
  shows_when: or(list(text), []),
  as_typed: or(list(text), []),
  cause: orNull(text),
  cause_title: or(text, ""),
  cause_system: orNull(text),
  correction: orNull(values.parseCorrection),
  confirmed_by: orNull(text),
  verification: or(text, ""),
  verified: or(flag, false),
  unresolved_reason: orNull(parseUnresolved),
  note: or(text, ""),
  labour: or(values.parseLabour, NO_LABOUR),
  cost: or(values.parseCost, NO_COST),
  comeback_of: orNull(text),
  returned_as: or(list(text), []),
  joined_into: or(orNull(text), null),
  joined: or(list(text), []),
  by: orNull(text),
};
export const parseCaseBrief = object(brief);
export type CaseBrief = Parsed<typeof parseCaseBrief>;

export const parseCase = object({
  ...brief,
  readings: or(list(values.parseReadingStep), []),
  tests: or(list(values.parseTestStep), []),
  parts: or(list(values.parsePartStep), []),
  repairs: or(list(values.parseRepairStep), []),
  skipped: or(list(values.parseSkipStep), []),
  objections: or(list(values.parseObjectionStep), []),
  photos: or(list(values.parsePhoto), []),
});
export type Case = Parsed<typeof parseCase>;

export const parseCasePage = object({ cases: list(parseCaseBrief), next: orNull(text) });

/** A kind of change this client does not know is passed over, not refused. */
const parseChange = object({
  seq: number,
  kind: text,
  id: text,
  op: oneOf("put", "delete"),
  case: orNull(anything),
});

export interface Change {
  readonly seq: number;
  readonly id: string;
  readonly op: "put" | "delete";
  readonly kind: string;
  readonly case: Case | null;
}

const caseChange: Parser<Change> = (value, at) => {
  const change = parseChange(value, at);
  const carries = change.kind === "case" && isObject(change.case);
  return { ...change, case: carries ? parseCase(change.case, `${at}.case`) : null };
};

export const parseChanges = object({ changes: list(caseChange), next: number, latest: number });
export type Changes = Parsed<typeof parseChanges>;
