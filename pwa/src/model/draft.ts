/** The question being asked, while it is being typed. Plain values: survives a reload as it is. */

import type { AdviceBody, CaseBody, ComplaintBody, PartBody, ReadingBody, TestBody, Vehicle } from "../wire";
import { NO_VEHICLE } from "../wire";
import { sentVehicle } from "./vin";
import { t } from "../texts";

export interface Draft {
  readonly id: string;
  readonly complaint: string;
  readonly vehicle: Vehicle;
  readonly symptoms: readonly string[];
  readonly codes: readonly string[];
  readonly readings: readonly ReadingBody[];
  readonly tests: readonly TestBody[];
  readonly parts: readonly PartBody[];
  readonly comes_and_goes: boolean;
  /** Conditions in which the fault shows, by id. */
  readonly shows_when: readonly string[];
  /** Absent in drafts of an earlier version. */
  readonly as_typed?: readonly string[];
  readonly changed: string;
}

export const newDraft = (id: string, now: Date): Draft => ({
  id,
  complaint: "",
  vehicle: NO_VEHICLE,
  symptoms: [],
  codes: [],
  readings: [],
  tests: [],
  parts: [],
  comes_and_goes: false,
  shows_when: [],
  changed: now.toISOString(),
});

/** The draft with some fields replaced. */
export const amended = (draft: Draft, change: Partial<Omit<Draft, "id">>, now: Date): Draft => ({
  ...draft,
  ...change,
  changed: now.toISOString(),
});

const vehicleSaid = (vehicle: Vehicle): boolean =>
  Boolean(vehicle.year || vehicle.make || vehicle.model || vehicle.engine || vehicle.transmission) ||
  Boolean(vehicle.odometer || vehicle.vin || vehicle.traits.length);

export const isBlank = (draft: Draft): boolean =>
  !draft.complaint.trim() &&
  !vehicleSaid(draft.vehicle) &&
  ![draft.symptoms, draft.codes, draft.readings, draft.tests, draft.parts, draft.shows_when].some((items) => items.length);

/** Enough to ask with: words, a code, a symptom or a reading. */
export const canAsk = (draft: Draft): boolean =>
  Boolean(draft.complaint.trim()) || [draft.symptoms, draft.codes, draft.readings].some((items) => items.length > 0);

/** Adds the value, or takes it away when it is there already. */
export const toggled = (items: readonly string[], item: string): readonly string[] =>
  items.includes(item) ? items.filter((one) => one !== item) : [...items, item];

/** The complaint in words; a draft of only codes and readings still needs some to be a case. */
function words(draft: Draft): string {
  const typed = draft.complaint.trim();
  if (typed) return typed;
  return draft.codes.length ? t().draft.codes(draft.codes.join(", ")) : t().draft.noWordsGiven;
}

/** The draft as the body of a question or of a new case; what is empty stays out. */
export function toComplaint(draft: Draft): ComplaintBody {
  return {
    complaint: words(draft),
    ...(vehicleSaid(draft.vehicle) && { vehicle: sentVehicle(draft.vehicle) }),
    ...(draft.symptoms.length && { symptoms: draft.symptoms }),
    ...(draft.codes.length && { codes: draft.codes }),
    ...(draft.readings.length && { readings: draft.readings }),
    ...(draft.tests.length && { tests: draft.tests }),
    ...(draft.parts.length && { parts: draft.parts }),
    ...(draft.comes_and_goes && { comes_and_goes: true }),
    ...(draft.shows_when.length && { shows_when: draft.shows_when }),
    ...(draft.as_typed?.length && { as_typed: draft.as_typed }),
  };
}

export const toQuestion = (draft: Draft, options: { minutesSpent?: number; limit?: number } = {}): AdviceBody => ({
  ...toComplaint(draft),
  ...(options.minutesSpent !== undefined && { minutes_spent: options.minutesSpent }),
  ...(options.limit !== undefined && { limit: options.limit }),
});

/** The draft as a new case; `newId` names the case and each step, once and for all. */
export function toCaseBody(draft: Draft, newId: () => string, now: Date): CaseBody {
  const body = toComplaint(draft);
  const named = <T extends { readonly id?: string }>(steps: readonly T[]): readonly T[] =>
    steps.map((step) => ({ ...step, id: step.id ?? newId() }));
  return {
    ...body,
    id: newId(),
    opened: now.toISOString(),
    ...(body.readings && { readings: named(body.readings) }),
    ...(body.tests && { tests: named(body.tests) }),
    ...(body.parts && { parts: named(body.parts) }),
  };
}
