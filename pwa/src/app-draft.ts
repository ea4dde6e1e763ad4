/** The question being typed: saved on this phone a moment after each change. */
import { computed, effect, signal } from "@preact/signals";

import { phone } from "./app-state";
import { amended, isBlank, newDraft, type Draft } from "./model/draft";
import { newId } from "./model/ids";
import type { AdvisedCar, CallAnswer, CallQuestion, HeardSymptom, Vehicle } from "./wire";

const fresh = (): Draft => newDraft(newId(), new Date());

export const draft = signal<Draft>(fresh());
export const heardSymptoms = signal<readonly HeardSymptom[]>([]);
/** The car as the service understood it, of the words last listened to. */
export const heardCar = signal<AdvisedCar | null>(null);
const asked = signal<readonly CallQuestion[]>([]);
const passedOver = signal<readonly string[]>([]);
/** Questions for the customer on the phone, without those answered or passed over. */
export const callQuestions = computed(() => asked.value.filter((each) => !passedOver.value.includes(`${draft.value.id} ${each.question}`)));
export const callsPut = computed(() => passedOver.value.filter((each) => each.startsWith(`${draft.value.id} `)).length);
export const otherDrafts = computed(() => phone.drafts.value.filter((each) => each.id !== draft.value.id && !isBlank(each)));

const SAVE_MS = 150;
const LISTEN_MS = 900;
let saving = 0;
let listening = 0;

export async function saveDraftNow(): Promise<void> {
  clearTimeout(saving);
  if (!isBlank(draft.peek())) await phone.saveDraft(draft.peek());
}

/** What was heard in other words no longer holds. */
function hush(): void {
  clearTimeout(listening);
  heardSymptoms.value = [];
  heardCar.value = null;
  asked.value = [];
}

/** An answer from the customer goes to the question's own field, and asks again; null passes it over. */
export function answerCall(question: string, said: CallAnswer | null): void {
  const { id, symptoms, shows_when } = draft.peek();
  passedOver.value = [...passedOver.peek(), `${id} ${question}`];
  if (!said) return;
  changeDraft({
    ...(said.symptom && { symptoms: [...new Set([...symptoms, said.symptom])] }),
    ...(said.condition && { shows_when: [...new Set([...shows_when, said.condition])] }),
  });
  clearTimeout(listening);
  void listen();
}

/** Signs heard in the words and what to ask about them, asked while the person pauses; without signal of the phone itself. */
async function listen(): Promise<void> {
  const words = draft.peek();
  if (words.complaint.trim().length < 8) return;
  const answer = await phone.ask(words);
  if (!("advice" in answer && answer.advice) || draft.peek().complaint !== words.complaint) return;
  heardSymptoms.value = answer.advice.symptoms;
  heardCar.value = answer.advice.car;
  asked.value = answer.advice.questions;
}

export function changeDraft(change: Partial<Draft>): void {
  const otherVin = change.vehicle?.vin && change.vehicle.vin !== draft.peek().vehicle.vin;
  draft.value = amended(draft.peek(), change, new Date());
  clearTimeout(saving);
  saving = window.setTimeout(() => void saveDraftNow(), SAVE_MS);
  if (change.complaint === undefined && !otherVin) return;
  hush();
  listening = window.setTimeout(() => void listen(), LISTEN_MS);
}

export async function takeDraft(id: string): Promise<void> {
  await saveDraftNow();
  hush();
  draft.value = phone.drafts.peek().find((each) => each.id === id) ?? fresh();
}

/** An empty question; the one before stays among the drafts. */
export async function startDraft(): Promise<void> {
  await saveDraftNow();
  forgetDraft();
}

/** Turns to an empty question without saving: the present one became a case. */
export function forgetDraft(): void {
  clearTimeout(saving);
  hush();
  draft.value = fresh();
}

/** After a reload, the last question goes on where it was. */
export function resumeDraft(): void {
  const last = phone.drafts.peek().find((each) => !isBlank(each));
  if (last && isBlank(draft.peek())) draft.value = last;
}

/** What was typed before the service was reached is listened to once it is. */
export function listenWhenReached(): void {
  let was = false;
  effect(() => {
    const reached = phone.sync.value.link === "online";
    if (reached && !was && asked.peek().length === 0) void listen();
    was = reached;
  });
}

export function keepOnLeaving(): void {
  addEventListener("pagehide", () => void saveDraftNow());
  addEventListener("leaving", () => void saveDraftNow());
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
