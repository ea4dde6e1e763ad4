/** The job at hand: its steps so far, minutes, money, and a close that writes most of itself. */

import type {
  Advice,
  Case,
  CloseBody,
  Labour,
  ObjectionStep,
  PartStep,
  PhotoStep,
  ReadingStep,
  RepairStep,
  SkipStep,
  TestStep,
  Trade,
} from "../wire";
import { t } from "../texts";

export type JobStep =
  | { readonly kind: "test"; readonly at: string; readonly step: TestStep }
  | { readonly kind: "reading"; readonly at: string; readonly step: ReadingStep }
  | { readonly kind: "part"; readonly at: string; readonly step: PartStep }
  | { readonly kind: "repair"; readonly at: string; readonly step: RepairStep }
  | { readonly kind: "skip"; readonly at: string; readonly step: SkipStep }
  | { readonly kind: "objection"; readonly at: string; readonly step: ObjectionStep }
  | { readonly kind: "photo"; readonly at: string; readonly step: PhotoStep };

/** Every step in the order it was done; steps of one moment keep tests before readings. */
export function stepsOf(job: Case): readonly JobStep[] {
  const at = (when: string | null): string => when ?? job.opened ?? "";
  const steps: JobStep[] = [
    ...job.tests.map((step) => ({ kind: "test", at: at(step.at), step }) as const),
    ...job.readings.map((step) => ({ kind: "reading", at: at(step.at), step }) as const),
    ...job.parts.map((step) => ({ kind: "part", at: at(step.at), step }) as const),
    ...job.repairs.map((step) => ({ kind: "repair", at: at(step.at), step }) as const),
    ...job.skipped.map((step) => ({ kind: "skip", at: at(step.at), step }) as const),
    ...job.objections.map((step) => ({ kind: "objection", at: at(step.at), step }) as const),
    ...job.photos.map((step) => ({ kind: "photo", at: at(step.at), step }) as const),
  ];
  return steps.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
}

/** The shop's own minutes for a test where none were written. */
const testMinutes = (step: TestStep, trade: Trade): number =>
  step.minutes ?? trade.tests.find((test) => test.id === step.test)?.do_min ?? 0;

/** Diagnosis minutes so far, from the tests done. */
export const minutesSpent = (job: Case, trade: Trade): number =>
  job.tests.reduce((sum, step) => sum + testMinutes(step, trade), 0);

/** The case's own title, else the first words of its complaint. */
export function titleOf(job: Pick<Case, "title" | "complaint">): string {
  if (job.title) return job.title;
  const words = job.complaint.trim();
  return words.length > 60 ? `${words.slice(0, 57).trimEnd()}...` : words;
}

interface Sums {
  readonly parts: number;
  /** Parts fitted but not charged: the shop's own loss. */
  readonly lost_parts: number;
  readonly labour: number;
  readonly other: number;
  readonly total: number;
}

const cents = (amount: number): number => Math.round(amount * 100) / 100;
const priced = (parts: readonly PartStep[]): number => parts.reduce((sum, part) => sum + (part.price ?? 0), 0);

/** The money as the service will sum it: charged parts, billed minutes by the rate, other. */
export function sums(job: Case, labour: Partial<Labour>, { rate, other = 0 }: { rate: number; other?: number }): Sums {
  const parts = cents(priced(job.parts.filter((part) => part.charged)));
  const billed = (labour.diagnosis_min ?? 0) + (labour.repair_min ?? 0) - (labour.not_billed_min ?? 0);
  const hourly = labour.rate_per_hour ?? rate;
  const worked = cents((Math.max(0, billed) / 60) * hourly);
  const lost = cents(priced(job.parts.filter((part) => !part.charged)));
  return { parts, lost_parts: lost, labour: worked, other, total: cents(parts + worked + other) };
}

/** Components fitted that did something, or of which it is not known yet. */
export const fittedIn = (job: Case): readonly string[] => job.parts.filter((part) => part.result !== "no change").map((part) => part.component);

/** The part that cured, else the last one fitted whose result is still open. */
function curingPart(job: Case): PartStep | undefined {
  const open = job.parts.filter((part) => part.result === null);
  return job.parts.findLast((part) => part.result === "cured") ?? open.at(-1);
}

/** The last repair without a new part that cured it. */
const curingRepair = (job: Case): RepairStep | undefined => job.repairs.findLast((step) => step.result === "cured");

/** The cause that a repair cured, else the one a test outcome named outright; newest first. */
export const shownCause = (job: Case): string | null =>
  curingRepair(job)?.cause ??
  job.tests.findLast((step) => step.part !== null)?.part ??
  null;

/** The last test done that the cause says confirms it. */
function confirmingTest(job: Case, cause: string, trade: Trade): string | undefined {
  const wanted = trade.causes.find((one) => one.id === cause)?.confirm_test;
  return job.tests.findLast((step) => step.test === wanted)?.test;
}

function likelyCause(job: Case, advice: Advice | null, trade: Trade): string | null {
  const fitted = curingPart(job)?.component;
  const ranked = advice?.causes ?? [];
  const ofPart = ranked.find((row) => trade.causes.find((one) => one.id === row.cause)?.component === fitted);
  return shownCause(job) ?? ofPart?.cause ?? advice?.next.cause ?? ranked[0]?.cause ?? null;
}

/**
 * A proposal for the close form: cause, correction and confirming test from what was done and the
 * last advice (null without signal). The member changes what is wrong; fields not known are absent.
 */
export function closeProposal(job: Case, advice: Advice | null, trade: Trade): CloseBody {
  const cause = job.cause ?? likelyCause(job, advice, trade);
  const listed = trade.causes.find((one) => one.id === cause);
  const repair = curingRepair(job);
  const part = repair ? undefined : curingPart(job);
  const component = part?.component ?? (listed?.component || null);
  const done = repair ? repair.note || t().written.repairedWithoutANewPart : (listed?.fix ?? "");
  const confirmed = cause ? confirmingTest(job, cause, trade) : undefined;
  const diagnosis = minutesSpent(job, trade);
  return {
    ...(cause && { cause }),
    ...((component || listed) && {
      correction: { action: part ? "replace" : repair ? "repair" : "", component, text: done },
    }),
    ...(confirmed && { confirmed_by: confirmed }),
    ...(diagnosis > 0 && { labour: { diagnosis_min: diagnosis } }),
  };
}

/** Readings that were bad before and have no twin after: what to measure again before closing. */
export function readingsToRepeat(job: Case): readonly ReadingStep[] {
  const place = (step: ReadingStep): string => `${step.quantity}|${step.point}`;
  const after = new Set(job.readings.filter((step) => step.when === "after").map(place));
  const before = job.readings.filter((step) => step.when === "before" && !after.has(place(step)));
  return [...new Map(before.map((step) => [place(step), step])).values()];
}
