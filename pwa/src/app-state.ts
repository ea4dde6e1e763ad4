/** What the whole app shares: the phone, the hour, and the last thing done. */
import { computed, effect, signal } from "@preact/signals";

import { createPhone } from "./phone";
import type { Online } from "./phone";
import type { Loaded, Trouble } from "./views/trouble";
import { readIn, t } from "./texts";

export const phone = createPhone();
export const now = signal(new Date());
export const online = computed(() => phone.sync.value.link !== "offline");
export const shop = computed(() => phone.me.value?.shop ?? null);
export const currency = computed(() => shop.value?.currency ?? "");
effect(() => readIn(shop.value?.unit_system ?? "si"));
export const odometerUnit = computed((): "km" | "mi" => (shop.value?.unit_system === "us" ? "mi" : "km"));

export interface Done {
  text: string;
  action?: string;
  onAction?: () => void;
}

export const done = signal<Done | null>(null);
const SHOWN_MS = 9000;
let fading = 0;

export function say(next: Done | null): void {
  clearTimeout(fading);
  done.value = next;
  if (next) fading = window.setTimeout(() => (done.value = null), SHOWN_MS);
}

const NO_SIGNAL: Trouble = { get title() { return t().app.noSignal; }, get detail() { return t().app.theServiceCannotBeReached; }, get remedy() { return t().app.tryAgainWithSignal; }, field: null, errors: [] };
const SIGNED_OUT: Trouble = { get title() { return t().app.thisPhoneIsSignedOut; }, detail: "", get remedy() { return t().app.askTheManagerForA; }, field: null, errors: [] };

/** Why there is no answer, in words for the screen; null where there is one. */
export function troubleOf(answer: Online<unknown>): Trouble | null {
  if (answer.kind === "ok") return null;
  if (answer.kind === "refused") return answer.problem;
  return answer.kind === "signed_out" ? SIGNED_OUT : NO_SIGNAL;
}

export const nothingYet = { value: null, busy: false, trouble: null };

const latest = new WeakMap<object, unknown>();

/** Fetches into a signal; what was there before stays in sight meanwhile. An answer to an earlier question is let go. */
export async function load<T>(into: { value: Loaded<T> }, fetchIt: () => Promise<Online<T>>): Promise<void> {
  into.value = { ...into.value, busy: true, trouble: null };
  latest.set(into, fetchIt);
  const answer = await fetchIt();
  if (latest.get(into) !== fetchIt) return;
  into.value = { value: answer.kind === "ok" ? answer.value : into.value.value, busy: false, trouble: troubleOf(answer) };
}

export function keepTime(): void {
  setInterval(() => (now.value = new Date()), 20_000);
}
