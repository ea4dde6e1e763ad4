/** The closing form of each open case: proposed by the job, kept once touched. */
import { computed, signal } from "@preact/signals";

import { answer, job } from "./app-job";
import { keep, keptValue, letGo } from "./app-kept";
import { go } from "./app-route";
import { phone, say } from "./app-state";
import { closeProposal, shownCause } from "./model/job";
import type { LocalCase } from "./model/local-case";
import { EMPTY_FORM, proposed, type ClosingForm } from "./views/closing-form";
import type { Advice, CloseBody, ReadingBody, ReadingStep } from "./wire";
import { t } from "./texts";

const touched = signal<Readonly<Record<string, ClosingForm>>>({});

const isForm = (value: unknown): value is Partial<ClosingForm> => typeof value === "object" && value !== null && "cause" in value;

function keptForm(id: string): ClosingForm | null {
  const kept = keptValue(`closing.${id}`, isForm);
  return kept && { ...EMPTY_FORM, ...kept };
}

export const adviceOf = (id: string): Advice | null => {
  const { asked, job: of } = answer.value;
  return of === id && asked?.kind === "advice" ? asked.advice : null;
};

/** Below this chance no cause is marked beforehand: a wrong one is too easily let through. */
const SURE = 0.6;

function sureOnly(proposal: CloseBody, file: LocalCase): CloseBody {
  const chance = adviceOf(file.id)?.causes.find((each) => each.cause === proposal.cause)?.probability ?? 0;
  const shown = (proposal.cause !== undefined && shownCause(file) === proposal.cause) || file.parts.some((each) => each.result === "cured");
  if (shown || chance >= SURE) return proposal;
  const { cause: _unsure, correction: _its, confirmed_by: _test, ...rest } = proposal;
  return rest;
}

export const closing = computed((): ClosingForm => {
  const here = job.value;
  if (here?.kind !== "case") return EMPTY_FORM;
  const kept = touched.value[here.id] ?? keptForm(here.id);
  return kept ?? proposed(sureOnly(closeProposal(here.it, adviceOf(here.id), phone.trade.value), here.it));
});

export function changeClosing(form: ClosingForm): void {
  const here = job.peek();
  if (here?.kind !== "case") return;
  touched.value = { ...touched.peek(), [here.id]: form };
  keep(`closing.${here.id}`, form);
}

export function addAfterReading(twin: ReadingStep, reading: ReadingBody): void {
  const form = closing.peek();
  const after = { ...reading, point: twin.point, when: "after" as const };
  const others = form.after.filter((each) => each.quantity !== after.quantity || each.point !== after.point);
  changeClosing({ ...form, after: [...others, after] });
}

export async function closeNow(body: CloseBody): Promise<void> {
  const here = job.peek();
  if (here?.kind !== "case") return;
  await phone.closeCase(here.id, body);
  letGo(`closing.${here.id}`);
  const { [here.id]: _closed, ...others } = touched.peek();
  touched.value = others;
  go(`#/case/${here.id}`, { instead: true });
  say({ text: body.unresolved ? t().app.closedAsNotSolved : t().app.closedSavedOnThisPhone });
}
