/** The question being typed: saved on this phone a moment after each change. */
import { computed, signal } from "@preact/signals";

import { phone } from "./app-state";
import { amended, isBlank, newDraft, type Draft } from "./model/draft";
import { newId } from "./model/ids";
import type { HeardSymptom, Vehicle } from "./wire";

const fresh = (): Draft => newDraft(newId(), new Date());

export const draft = signal<Draft>(fresh());
export const heardSymptoms = signal<readonly HeardSymptom[]>([]);
export const otherDrafts = computed(() => phone.drafts.value.filter((each) => each.id !== draft.value.id && !isBlank(each)));

const SAVE_MS = 150;
const LISTEN_MS = 900;
let saving = 0;
let listening = 0;

export async function saveDraftNow(): Promise<void> {
  clearTimeout(saving);
  if (!isBlank(draft.peek())) await phone.saveDraft(draft.peek());
}

/** Signs heard in the words, asked of the service while the person pauses; silent without signal. */
async function listen(): Promise<void> {
  const asked = draft.peek();
  if (asked.complaint.trim().length < 8 || phone.sync.peek().link !== "online") return;
  const answer = await phone.ask(asked);
  if (answer.kind === "advice" && draft.peek().complaint === asked.complaint) heardSymptoms.value = answer.advice.symptoms;
}

export function changeDraft(change: Partial<Draft>): void {
  draft.value = amended(draft.peek(), change, new Date());
  clearTimeout(saving);
  saving = window.setTimeout(() => void saveDraftNow(), SAVE_MS);
  if (change.complaint === undefined) return;
  clearTimeout(listening);
  heardSymptoms.value = [];
  listening = window.setTimeout(() => void listen(), LISTEN_MS);
}

export async function takeDraft(id: string): Promise<void> {
  await saveDraftNow();
  draft.value = phone.drafts.peek().find((each) => each.id === id) ?? fresh();
  heardSymptoms.value = [];
}

/** An empty question; the one before stays among the drafts. */
export async function startDraft(): Promise<void> {
  await saveDraftNow();
  forgetDraft();
}

/** Turns to an empty question without saving: the present one became a case. */
export function forgetDraft(): void {
  clearTimeout(saving);
  clearTimeout(listening);
  draft.value = fresh();
  heardSymptoms.value = [];
}

/** After a reload, the last question goes on where it was. */
export function resumeDraft(): void {
  const last = phone.drafts.peek().find((each) => !isBlank(each));
  if (last && isBlank(draft.peek())) draft.value = last;
}

export function keepOnLeaving(): void {
  addEventListener("pagehide", () => void saveDraftNow());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") void saveDraftNow();
  });
}

const carKey = (vehicle: Vehicle): string => [vehicle.year, vehicle.make, vehicle.model, vehicle.engine].join("|").toLowerCase();

/** Cars of late, each once, for one tap. */
export const recentCars = computed((): readonly Vehicle[] => {
  const named = phone.cases.value.map((each) => each.vehicle).filter((each) => each.make || each.model);
  return [...new Map(named.slice(0, 200).reverse().map((each) => [carKey(each), each])).values()].reverse();
});
