/** The view of what keeps failing as the address has it, and what the service says to it. */
import { computed, effect, signal } from "@preact/signals";

import { isManager } from "./app-parts";
import { asked, go, route } from "./app-route";
import { load, nothingYet, phone } from "./app-state";
import { addressOf, monthsAsked, NAMES, rowsAsked, viewOf, type FailingView, type Name } from "./model/failing-view";
import type { Order } from "./model/rows";
import type { Loaded } from "./views/trouble";
import type { Alerts, Life, Recurrences, Timeline } from "./wire";
import { parseAlerts, parseLife, parseRecurrences, parseTimeline } from "./wire-office";

export const view = computed(() => viewOf(asked.value));
export const recurrences = signal<Loaded<Recurrences>>(nothingYet);
export const timeline = signal<Loaded<Timeline>>(nothingYet);
export const life = signal<Loaded<Life>>(nothingYet);
export const alerts = signal<Loaded<Alerts>>(nothingYet);

/** Values met so far, so that one can go from one filter to another. */
export const known = signal<Readonly<Partial<Record<Name, readonly string[]>>>>({});

/** Rows the screen asks for; the file has all. */
const SHOWN = "&limit=100";

const hashOf = (next: FailingView): string => ["#/failing", addressOf(next)].filter(Boolean).join("?");

/** Another view; the way back leads to this one, unless it only is unfolded or sorted otherwise. */
export function change(part: Partial<FailingView>, { instead = false } = {}): void {
  const next = hashOf({ ...view.peek(), ...part });
  if (next !== hashOf(view.peek())) go(next, { instead });
}

export function unfold(id: string, open: boolean): void {
  const others = view.peek().open.filter((each) => each !== id);
  change({ open: open ? [...others, id] : others }, { instead: true });
}

export function sort(table: string, order: Order | null): void {
  const { [table]: _, ...others } = view.peek().orders;
  change({ orders: order ? { ...others, [table]: order } : others }, { instead: true });
}

export const address = (): string => location.origin + location.pathname + hashOf(view.peek());

export const loadAlerts = (): Promise<void> => load(alerts, () => phone.report(`/alerts?state=${view.peek().alerts}`, parseAlerts));

let shownFor = "";

export async function loadRows(): Promise<void> {
  const wanted = rowsAsked(view.peek());
  // Rows of another question would be taken for the answer to this one.
  if (wanted !== shownFor) recurrences.value = nothingYet;
  shownFor = wanted;
  await load(recurrences, () => phone.report(`/recurrences?${wanted}${SHOWN}`, parseRecurrences));
  const rows = recurrences.peek().value?.rows ?? [];
  const met = NAMES.map((name) => [name, [...new Set([...(known.peek()[name] ?? []), ...rows.map((row) => row.key[name] ?? "").filter(Boolean)])]] as const);
  known.value = Object.fromEntries(met);
}

/** The chosen row's months, and its part's life where the row names model and part. */
async function loadRow(): Promise<void> {
  const months = monthsAsked(view.peek());
  timeline.value = life.value = nothingYet;
  if (!months) return;
  await load(timeline, () => phone.report(`/recurrences/months?${months}`, parseTimeline));
  const { model, component } = view.peek().row;
  if (!model || !component) return;
  await load(life, () => phone.report(`/recurrences/life?${new URLSearchParams({ model, component })}`, parseLife));
}

/** Asks again for whatever the address now says otherwise, until it is told to stop. */
export function follow(): () => void {
  if (!isManager()) return () => undefined;
  const rows = computed(() => rowsAsked(view.value));
  const months = computed(() => monthsAsked(view.value));
  const state = computed(() => view.value.alerts);
  // Whoever has left for another place has no view of this one.
  const ask = (act: () => Promise<void>) => (): void => void (route.peek().at === "failing" && act());
  const stops = ([[rows, loadRows], [months, loadRow], [state, loadAlerts]] as const).map(([of, act]) => effect(() => { void of.value; queueMicrotask(ask(act)); }));
  return () => stops.forEach((stop) => stop());
}
