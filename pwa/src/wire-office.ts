/** Members, devices and what the manager reads, as they travel. */

import { either, flag, list, number, object, oneOf, or, orNull, record, text } from "./wire-parse";
import type { Parsed } from "./wire-parse";
import { NO_VEHICLE, parseCaseBrief, parseState } from "./wire-case";
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
  life_km: orNull(number),
  per_1000_km: orNull(number),
  prices: orNull(list(number)),
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

/** So many of so many, with a 95 % interval of the chance. */
const parseShare = object({ count: number, of: number, low: number, high: number });
export type Share = Parsed<typeof parseShare>;
const parseTrend = object({ per_period: number, p: number, rising: flag });
/** The first month of a new rate, the 90 % span of that month, and the new rate over the old. */
const parseSince = object({ month: text, earliest: text, latest: text, times: number });
const parsePerVisits = object({ visits: number, per_100: number, low: number, high: number });

const parseRecurrence = object({
  key: record(text),
  title: or(text, ""),
  observed: number,
  expected: orNull(number),
  ratio: orNull(number),
  low: orNull(number),
  high: orNull(number),
  q: orNull(number),
  signal: oneOf("strong", "signal", "none"),
  first: orNull(text),
  last: orNull(text),
  median_minutes: orNull(number),
  median_cost: orNull(number),
  total_cost: or(number, 0),
  comebacks: or(number, 0),
  first_cured: orNull(parseShare),
  odometer_km: orNull(list(number)),
  trend: orNull(parseTrend),
  since: orNull(parseSince),
  per_visits: orNull(parsePerVisits),
  cases: or(list(text), []),
});
export type Recurrence = Parsed<typeof parseRecurrence>;

export const parseRecurrences = object({
  by: list(text),
  since: orNull(text),
  until: orNull(text),
  cases: number,
  pairs: or(number, 0),
  rows: list(parseRecurrence),
  notes: or(list(text), []),
});
export type Recurrences = Parsed<typeof parseRecurrences>;

/** A row month by month; `changed` is the chance that its rate changed after that month. */
export const parseTimeline = object({
  row: parseRecurrence,
  months: list(object({ month: text, observed: number, expected: number, changed: or(number, 0) })),
  says: or(text, ""),
});
export type Timeline = Parsed<typeof parseTimeline>;

/** How far a part runs on cars this shop knows; no steps where too little is known. */
export const parseLife = object({
  model: text,
  component: text,
  cars: number,
  failures: number,
  dropped: or(number, 0),
  steps: list(object({ at: number, at_risk: number, failed: number, survival: number, low: number, high: number })),
  median_km: orNull(number),
  fit: orNull(object({ shape: number, scale: number })),
  quartiles: orNull(list(number)),
  says: or(text, ""),
});
export type Life = Parsed<typeof parseLife>;

const parseWatch = object({ component: text, title: text, found: number, jobs: number, not_it: number, says: text });
/** What this shop keeps finding on a model; `not_it` is the share of jobs in which it was something else. */
export const parseWatchList = object({ model: text, watch: list(parseWatch) });
export type WatchList = Parsed<typeof parseWatchList>;

const parseCureRow = object({ name: text, title: text, closed: number, came_back: number, cured: number, low: number, high: number });
export type CureRow = Parsed<typeof parseCureRow>;
export const parseOverview = object({
  currency: text,
  cures: object({ quarters: list(parseCureRow), systems: list(parseCureRow), kinds: list(parseCureRow) }),
  losses: list(object({ cause: text, title: text, cases: number, minutes: number, parts: number, parts_money: number, given: number })),
  times: list(object({ system: text, title: text, jobs: number, middle: number, most: number, worst: number, says: text })),
  gaps: object({
    saved: orNull(object({ minutes: number, early: number, late: number, jobs: number })),
    systems: list(object({ system: text, title: text, complaints: number, closed: number })),
    unrecorded: list(text),
    missing: list(object({ case: text, title: text, lacks: list(text), author: orNull(text), asked: or(flag, false) })),
  }),
});
export type Overview = Parsed<typeof parseOverview>;

export const parseShelf = object({
  currency: text,
  lead_days: number,
  rows: list(object({ component: text, title: text, fitted: number, keep: number, short: number, price: number, seasonal: flag, says: text })),
});
export type Shelf = Parsed<typeof parseShelf>;

/** How often the memory is right, on closed cases each asked without itself. */
export const parseMemory = object({
  asked: number,
  first: orNull(number),
  third: orNull(number),
  tenth: orNull(number),
  calibration_error: number,
  bins: list(object({ count: number, said: number, right: number })),
});
export type Memory = Parsed<typeof parseMemory>;

/** Something the manager hears of unasked; `sure` tells a controlled discovery from an early hint. */
export const parseAlert = object({
  id: text,
  kind: oneOf("signal", "trend", "source", "comebacks"),
  state: oneOf("open", "acknowledged", "muted", "over"),
  title: text,
  says: text,
  sure: flag,
  level: number,
  key: record(text),
  figures: record(number),
  cases: or(list(text), []),
  raised: text,
  seen: text,
  settled: orNull(text),
  by: orNull(text),
  reason: or(text, ""),
});
export type Alert = Parsed<typeof parseAlert>;
export const parseAlerts = object({ alerts: list(parseAlert) });
export type Alerts = Parsed<typeof parseAlerts>;

/** An address that hears of alerts; its secret is told once. */
export const parseHook = object({ id: text, url: text, made: text, secret: orNull(text) });
export type Hook = Parsed<typeof parseHook>;
export const parseHooks = object({ hooks: list(parseHook) });

export const parseVisits = object({ visits: list(object({ month: text, make: orNull(text), model: text, count: number })) });
export type Visits = Parsed<typeof parseVisits>;

/** A message to an address: still waiting, taken, or given up after its last trouble. */
export const parseSent = object({
  id: text,
  title: text,
  state: oneOf("waiting", "taken", "failed"),
  made: text,
  due: orNull(text),
  ended: orNull(text),
  tries: number,
  trouble: or(text, ""),
});
export type Sent = Parsed<typeof parseSent>;
export const parseSentList = object({ sent: list(parseSent) });

/** A job to ask after: the chance that its fault comes back, and what raises it. */
const parseFollowUp = object({ case: text, title: text, model: text, closed: text, days: number, risk: number, why: list(text), tried: flag });
export const parseFollowUps = object({ follow_ups: list(parseFollowUp) });
export type FollowUps = Parsed<typeof parseFollowUps>;
/** What was heard of a car. */
export const parseHeard = oneOf("cured", "came back", "not reached");
export type Heard = Parsed<typeof parseHeard>;

const parseFact = object({ fact: oneOf("correction", "verification", "diagnosis minutes", "model", "odometer"), at: text, by: orNull(text), unknown: flag });
export type FactAsked = Parsed<typeof parseFact>;
export const parseFactsAsked = object({ case: text, facts: list(parseFact) });

export const parseAsks = object({ asks: list(object({ case: parseCaseBrief, facts: list(parseFact) })) });
export type Asks = Parsed<typeof parseAsks>;

/** What failed in the season ahead a year ago, and how many of which parts to have ready. */
export const parseSeason = object({
  currency: text,
  starts: text,
  ends: text,
  lead_days: number,
  failures: list(object({ cause: text, title: text, last: number, year: number, parts: list(text), says: text })),
  stock: list(object({ component: text, title: text, fitted: number, expected: number, keep: number, short: number, price: orNull(number) })),
});
export type Season = Parsed<typeof parseSeason>;

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
