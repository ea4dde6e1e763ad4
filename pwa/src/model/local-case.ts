/** The phone's own view of a case: the service's copy with the acts still unsent laid over it. */

import type {
  Case,
  CaseBody,
  CloseBody,
  ObjectionBody,
  PartBody,
  ReadingBody,
  RepairBody,
  SkipBody,
  TestBody,
  Vehicle,
} from "../wire";
import { NO_VEHICLE, parseCase, read } from "../wire";
import { mergePatch } from "./merge";
import type { Act, Entry } from "./outbox";

export interface LocalCase extends Case {
  /** Acts on this case the service does not have yet. */
  readonly unsent: number;
  /** Among them, acts the service refused. */
  readonly parked: number;
}

interface Moment {
  readonly by: string | null;
  readonly at: string;
}

const without = <T extends { readonly id: string }>(steps: readonly T[], id: string): readonly T[] =>
  steps.filter((step) => step.id !== id);

/** Adds a step once: an act may be stored at the service and still wait here for the answer. */
const withStep = <T extends { readonly id: string }>(steps: readonly T[], step: T): readonly T[] =>
  steps.some((one) => one.id === step.id) ? steps : [...steps, step];

type Named<T> = T & { readonly id: string };

const testStep = (body: Named<TestBody>, { by, at }: Moment): Case["tests"][number] => ({
  id: body.id,
  at,
  by,
  test: body.test,
  outcome: body.outcome,
  minutes: body.minutes ?? null,
  note: body.note ?? "",
  part: body.part ?? null,
  fault_present: body.fault_present ?? true,
});

const readingStep = (body: Named<ReadingBody>, { by, at }: Moment): Case["readings"][number] => ({
  id: body.id,
  at,
  by,
  quantity: body.quantity,
  value: body.value,
  unit: body.unit,
  point: body.point ?? "",
  when: body.when ?? "before",
  conditions: body.conditions ?? {},
});

const partStep = (body: Named<PartBody>, { by, at }: Moment): Case["parts"][number] => ({
  id: body.id,
  at,
  by,
  component: body.component,
  source: body.source,
  price: body.price ?? null,
  result: body.result ?? null,
  note: body.note ?? "",
  charged: body.charged ?? true,
});

const repairStep = (body: Named<RepairBody>, { by, at }: Moment): Case["repairs"][number] => ({
  id: body.id,
  at,
  by,
  cause: body.cause,
  result: body.result,
  minutes: body.minutes ?? null,
  note: body.note ?? "",
});

/** A step of three fields that says why: a test not done, or a cause held to be wrong. */
const saidStep = <T extends SkipBody | ObjectionBody>(body: Named<T>, { by, at }: Moment) => ({
  ...body,
  at,
  by,
  note: body.note ?? "",
});

const named = <T extends { readonly id?: string }>(steps: readonly T[] | undefined): readonly Named<T>[] =>
  (steps ?? []).map((step, index) => ({ ...step, id: step.id ?? `unnamed-${index}` }));

function opened(body: Named<CaseBody>, moment: Moment): Case {
  const bare = { id: body.id, state: "open", revision: 0, complaint: body.complaint };
  return {
    ...read(parseCase, bare),
    opened: body.opened ?? moment.at,
    updated: moment.at,
    vehicle: { ...NO_VEHICLE, ...body.vehicle },
    symptoms: body.symptoms ?? [],
    codes: body.codes ?? [],
    comes_and_goes: body.comes_and_goes ?? false,
    shows_when: body.shows_when ?? [],
    as_typed: body.as_typed ?? [],
    note: body.note ?? "",
    readings: named(body.readings).map((one) => readingStep(one, moment)),
    tests: named(body.tests).map((one) => testStep(one, moment)),
    parts: named(body.parts).map((one) => partStep(one, moment)),
    by: moment.by,
  };
}

function shut(known: Case, body: CloseBody, moment: Moment): Case {
  const after = named(body.readings).map((one) => readingStep({ ...one, when: one.when ?? "after" }, moment));
  const correction =
    typeof body.correction === "string" ? { action: "", component: null, text: body.correction } : body.correction;
  const verification = body.verification ?? known.verification;
  const readings = after.reduce(withStep, known.readings);
  const proved = readings.some((one) => one.when === "after") || Boolean(verification);
  return {
    ...known,
    state: body.unresolved ? "unresolved" : "closed",
    closed: moment.at,
    cause: body.unresolved ? null : (body.cause ?? null),
    cause_title: body.own_cause?.title ?? known.cause_title,
    cause_system: body.own_cause?.system ?? known.cause_system,
    correction: correction ?? known.correction,
    confirmed_by: body.confirmed_by ?? null,
    verification,
    verified: body.unresolved ? false : (body.verified ?? proved),
    unresolved_reason: body.unresolved ?? null,
    note: body.note ?? known.note,
    title: body.title ?? known.title,
    labour: { ...known.labour, ...body.labour },
    readings,
  };
}

function partResult(known: Case, act: Extract<Act, { do: "part result" }>): Case {
  const parts = known.parts.map((part) => (part.id === act.step ? { ...part, ...act.change } : part));
  return { ...known, parts };
}

type Changed = Extract<Act, { do: "step change" }>;

function putRight(known: Case, { of, step, change }: Changed): Case {
  const right = <T extends { readonly id: string }>(steps: readonly T[]): readonly T[] =>
    steps.map((one) => (one.id === step ? { ...one, ...change } : one));
  return of === "tests" ? { ...known, tests: right(known.tests) } : { ...known, readings: right(known.readings) };
}

function undone(known: Case, step: string): Case {
  return {
    ...known,
    tests: without(known.tests, step),
    readings: without(known.readings, step),
    parts: without(known.parts, step),
    repairs: without(known.repairs, step),
    skipped: without(known.skipped, step),
    objections: without(known.objections, step),
    photos: without(known.photos, step),
  };
}

const comeback = (old: Case | undefined, act: Extract<Act, { do: "reopen" }>, moment: Moment): Case => {
  const vehicle: Vehicle = { ...(old?.vehicle ?? NO_VEHICLE), ...(act.body.vehicle ?? {}) } as Vehicle;
  const body = { id: act.body.id, complaint: act.body.complaint ?? old?.complaint ?? "", vehicle };
  return {
    ...opened(body, moment),
    symptoms: old?.symptoms ?? [],
    note: act.body.note ?? "",
    comeback_of: old?.id ?? null,
    joined_into: null,
    joined: [],
  };
};

/** The case after one act, when the act changes this very case. */
function acted(known: Case, act: Act, moment: Moment): Case {
  switch (act.do) {
    case "amend":
      return mergePatch(known, act.change) as Case;
    case "test":
      return { ...known, tests: withStep(known.tests, testStep(act.body, moment)) };
    case "reading":
      return { ...known, readings: withStep(known.readings, readingStep(act.body, moment)) };
    case "part":
      return { ...known, parts: withStep(known.parts, partStep(act.body, moment)) };
    case "repair":
      return { ...known, repairs: withStep(known.repairs, repairStep(act.body, moment)) };
    case "skip":
      return { ...known, skipped: withStep(known.skipped, saidStep(act.body, moment)) };
    case "object":
      return { ...known, objections: withStep(known.objections, saidStep(act.body, moment)) };
    case "step change":
      return putRight(known, act);
    case "part result":
      return partResult(known, act);
    case "undo":
      return undone(known, act.step);
    case "photo":
      return { ...known, photos: withStep(known.photos, { ...act.photo, by: moment.by, at: moment.at }) };
    case "close":
      return shut(known, act.body, moment);
    case "reopen":
      return { ...known, returned_as: [...new Set([...known.returned_as, act.body.id])], verified: false };
    case "open":
    case "delete":
      return known;
  }
}

const counted = (found: LocalCase | Case, entry: Entry): LocalCase => ({
  ...found,
  unsent: ("unsent" in found ? found.unsent : 0) + 1,
  parked: ("parked" in found ? found.parked : 0) + (entry.state === "parked" ? 1 : 0),
});

function layOver(cases: Map<string, LocalCase>, entry: Entry, by: string | null): void {
  const moment = { by, at: entry.made };
  const { act } = entry;
  const known = cases.get(entry.caseId);
  if (act.do === "open") {
    cases.set(entry.caseId, counted(known ?? opened(act.body, moment), entry));
    return;
  }
  if (act.do === "delete" && entry.state !== "parked") {
    cases.delete(entry.caseId);
    return;
  }
  if (act.do === "reopen") {
    const fresh = cases.get(act.body.id) ?? comeback(known, act, moment);
    cases.set(act.body.id, counted(fresh, entry));
  }
  if (known)
    cases.set(entry.caseId, counted({ ...acted(known, act, moment), updated: entry.made } as LocalCase, entry));
}

/** One view per stored copy, so that what was worked out from an untouched case can be kept. */
const untouched = new WeakMap<Case, LocalCase>();

function asLocal(stored: Case): LocalCase {
  const view = untouched.get(stored) ?? { ...stored, unsent: 0, parked: 0 };
  untouched.set(stored, view);
  return view;
}

const lastTouched = (one: Case): string => one.updated ?? one.opened ?? "";

/** All cases as this phone sees them, last touched first. */
export function localCases(
  stored: readonly Case[],
  entries: readonly Entry[],
  by: string | null,
): readonly LocalCase[] {
  const cases = new Map(stored.map((one) => [one.id, asLocal(one)]));
  for (const entry of [...entries].sort((a, b) => a.seq - b.seq)) layOver(cases, entry, by);
  return [...cases.values()].sort((a, b) => (lastTouched(a) < lastTouched(b) ? 1 : -1));
}

/** Whether the service's case shows that the act is stored there. Ids are the phone's own, so they tell. */
export function alreadyThere(stored: Case, act: Act): boolean {
  switch (act.do) {
    case "open":
      return stored.id === act.body.id;
    case "reopen":
      return stored.id === act.body.id;
    case "test":
      return stored.tests.some((step) => step.id === act.body.id);
    case "reading":
      return stored.readings.some((step) => step.id === act.body.id);
    case "part":
      return stored.parts.some((step) => step.id === act.body.id);
    case "repair":
      return stored.repairs.some((step) => step.id === act.body.id);
    case "skip":
      return stored.skipped.some((step) => step.id === act.body.id);
    case "object":
      return stored.objections.some((step) => step.id === act.body.id);
    case "photo":
      return stored.photos.some((step) => step.id === act.photo.id);
    default:
      return false;
  }
}
