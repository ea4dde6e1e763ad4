/** Members, devices and what the manager reads, as they travel. */

import { either, flag, list, number, object, oneOf, or, orNull, record, text } from "./wire-parse";
import type { Parsed } from "./wire-parse";
import { NO_VEHICLE, parseState } from "./wire-case";
import { parseMember } from "./wire-shop";
import { parseSource, parseVehicle } from "./wire-values";

export const parseDevice = object({
  id: text,
  name: text,
  member: or(either(text, object({ id: text, name: text })), ""),
  last_seen: orNull(text),
  revoked: or(flag, false),
  this: or(flag, false),
});
export type Device = Parsed<typeof parseDevice>;

export const parseMembers = object({ members: list(parseMember) });
export const parseDevices = object({ devices: list(parseDevice) });

export const parseEnrolment = object({ code: text, link: text, qr: text, expires: text });
export type Enrolment = Parsed<typeof parseEnrolment>;

const parseSourceRow = object({
  source: parseSource,
  tried: number,
  cured: number,
  partly: or(number, 0),
  no_change: or(number, 0),
  failed_later: or(number, 0),
  success: orNull(number),
  low: orNull(number),
  high: orNull(number),
  median_price: orNull(number),
  expected_cost: orNull(number),
});
export type SourceRow = Parsed<typeof parseSourceRow>;

const parseComponentParts = object({
  component: text,
  title: or(text, ""),
  sources: list(parseSourceRow),
  cheapest_way: orNull(parseSource),
  says: or(text, ""),
});
export type ComponentParts = Parsed<typeof parseComponentParts>;

export const parsePartsReport = object({ currency: text, components: list(parseComponentParts) });
export type PartsReport = Parsed<typeof parsePartsReport>;

const parseRecurrence = object({
  key: record(text),
  title: or(text, ""),
  observed: number,
  expected: number,
  ratio: number,
  low: orNull(number),
  high: orNull(number),
  signal: oneOf("strong", "signal", "none"),
  first: orNull(text),
  last: orNull(text),
  median_minutes: orNull(number),
  median_cost: orNull(number),
  comebacks: or(number, 0),
  cases: or(list(text), []),
});
export type Recurrence = Parsed<typeof parseRecurrence>;

export const parseRecurrences = object({
  by: list(text),
  since: orNull(text),
  until: orNull(text),
  cases: number,
  rows: list(parseRecurrence),
  notes: or(list(text), []),
});
export type Recurrences = Parsed<typeof parseRecurrences>;

/** How well this shop's own weights foretell held-out cases, beside the shipped ones; a smaller loss is better. */
export const parseTuning = object({
  version: orNull(either(text, number)),
  when: orNull(text),
  cases: or(number, 0),
  shipped_loss: orNull(number),
  tuned_loss: orNull(number),
  adopted: or(flag, false),
});
export type Tuning = Parsed<typeof parseTuning>;

const parseImportLine = object({ line: number, field: orNull(text), detail: or(text, ""), remedy: or(text, "") });

export const parseImportReport = object({
  added: number,
  unchanged: number,
  updated: number,
  refused: number,
  lines: or(list(parseImportLine), []),
  same: or(number, 0),
  alike: or(number, 0),
  in_file: or(number, 0),
});
export type ImportReport = Parsed<typeof parseImportReport>;

/** Another record of the same visit, how much alike the two are (0 to 1) and why, and which is to remain. */
export const parseAlikeCase = object({
  case: text,
  state: parseState,
  title: or(text, ""),
  complaint: or(text, ""),
  vehicle: or(parseVehicle, NO_VEHICLE),
  opened: orNull(text),
  by: orNull(text),
  cause_title: or(text, ""),
  steps: or(number, 0),
  photos: or(number, 0),
  remains: text,
  takes: or(list(text), []),
  alike: number,
  exact: or(flag, false),
  why: or(list(text), []),
});
export type AlikeCase = Parsed<typeof parseAlikeCase>;
/** What is done about two records of one visit: `id` is the case it is done to. */
export interface Settled {
  readonly id: string;
  readonly how: "join" | "apart" | "split";
  readonly other: string;
}

export const parseAlikeCases = object({ alike: list(parseAlikeCase) });
