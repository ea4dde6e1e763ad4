/** This phone's copy of the cases: searched, and how old it is. */
import { computed, signal } from "@preact/signals";

import { now, phone } from "./app-state";
import type { LocalCase } from "./model/local-case";
import type { searchCases } from "./model/local-search";
import type { CaseState } from "./wire";

export const caseState = signal<CaseState | "all">("all");

/** Minutes since the copy was last in step; null before the first time. */
export const copyAge = computed((): number | null => {
  const last = phone.sync.value.lastSync;
  return last ? Math.max(0, (now.value.getTime() - new Date(last).getTime()) / 60_000) : null;
});

const textOf = (file: LocalCase): string =>
  [file.title, file.complaint, file.vehicle.make, file.vehicle.model, file.cause_title, file.correction?.text, file.note, ...file.codes].join(" ").toLowerCase();

/** The ranking is fetched when first asked for; until it is there, a case must hold the words. */
const search = signal<typeof searchCases | null>(null);
const fetchSearch = async (): Promise<void> => void (search.value = (await import("./model/local-search")).searchCases);

/** Cases the search ranks, then those that only hold the words somewhere. */
export function searchFiles(text: string): readonly LocalCase[] {
  const files = phone.cases.value;
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  const ranked = search.value?.(files, { text }, { limit: 50 }).map((each) => each.case) ?? [];
  if (!search.value) void fetchSearch();
  const plain = files.filter((file) => words.every((word) => textOf(file).includes(word)));
  return [...new Map([...ranked, ...plain].map((file) => [file.id, file])).values()];
}
