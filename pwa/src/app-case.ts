/** Acts on a stored case that are not steps of its testing. */
import { isText, keep, keptValue, letGo } from "./app-kept";
import { go } from "./app-route";
import { closeSheet } from "./app-sheet";
import { odometerUnit, phone, say } from "./app-state";
import { newId } from "./model/ids";
import { sentVehicle } from "./model/vin";
import type { Comeback } from "./views/case-sheets";
import type { Edited } from "./views/edit-sheet";
import type { AlikeCase, PartChange, Settled, StepChange } from "./wire";
import { t } from "./texts";

export const keepNote = (id: string, text: string): void => keep(`note.${id}`, text);

/** Words on a sheet outlive a killed tab, but not the sheet's own closing. */
export const keepWords = (sheet: "edit" | "reopen", id: string, text: string): void => keep(`${sheet}.${id}`, text);
export const wordsKept = (sheet: "edit" | "reopen", id: string): string | null => keptValue(`${sheet}.${id}`, isText);

export function dropWords(sheet: "edit" | "reopen", id: string): void {
  closeSheet();
  letGo(`${sheet}.${id}`);
}

export function saveNote(id: string, text: string): void {
  closeSheet();
  letGo(`note.${id}`);
  void phone.amendCase(id, { note: text.trim() }).then(() => say({ text: t().app.noteSavedOnThisPhone }));
}

export async function reopen(id: string, { complaint, distance, note }: Comeback): Promise<void> {
  dropWords("reopen", id);
  const unit = odometerUnit.peek() === "mi" ? "mile" : "km";
  const vehicle = distance === null ? {} : { vehicle: { odometer: { value: distance, unit } } };
  const fresh = await phone.reopenCase(id, { complaint, ...vehicle, ...(note && { note }) });
  go(`#/case/${fresh}`);
  say({ text: t().app.comebackOpened });
}

export function amend(id: string, { complaint, vehicle, codes }: Edited): void {
  dropWords("edit", id);
  void phone.amendCase(id, { complaint, vehicle: sentVehicle(vehicle), codes }).then(() => say({ text: t().app.changed }));
}

export async function takeBack(id: string, step: string): Promise<void> {
  await phone.undoStep(id, step);
  say({ text: t().app.takenBack });
}

export async function setResult(id: string, step: string, change: PartChange): Promise<void> {
  await phone.setPartResult(id, step, change);
  say({ text: t().app.writtenDown });
}

/** Puts a test's outcome or a reading's value right, with the way back to what stood there. */
export async function putRight(id: string, of: "tests" | "readings", { step, change, before }: { step: string; change: StepChange; before: StepChange }): Promise<void> {
  closeSheet();
  await phone.changeStep(id, of, step, change);
  const back = async (): Promise<void> => {
    await phone.changeStep(id, of, step, before);
    say({ text: t().app.asItWas });
  };
  say({ text: t().app.putRight, action: t().app.undo, onAction: () => void back() });
}

export async function removeCase(id: string): Promise<void> {
  await phone.deleteCase(id);
  go("#/cases", { instead: true });
  say({ text: t().app.caseDeleted });
}

/** Other records of the same visit; none without signal. */
export async function alikeOf(id: string): Promise<readonly AlikeCase[]> {
  const answer = await phone.alike(id);
  return answer.kind === "ok" ? answer.value : [];
}

/** Joins, keeps apart or splits, then fetches what changed; why it was not done, empty when it was. */
export async function settleTwin(twin: Settled): Promise<string> {
  const answer = await phone.settleTwin(twin, newId());
  if (answer.kind === "refused") return `${answer.problem.detail}: ${answer.problem.remedy}`;
  if (answer.kind !== "ok") return t().app.thisNeedsSignalNothingWas;
  await phone.syncNow();
  if (twin.how === "join") joined(twin);
  else say({ text: twin.how === "apart" ? t().app.keptAsTwoVisits : t().app.splitOffTwoCasesAgain });
  return "";
}

/** On to the case that remains, where another tap undoes it. */
function joined({ id, other }: Settled): void {
  go(`#/case/${id}`, { instead: true });
  say({ text: t().app.joinedOneVisitOneCase, action: t().app.undo, onAction: () => void settleTwin({ id: other, how: "split", other: id }) });
}
