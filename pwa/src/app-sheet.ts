/** The sheet laid over the screen, if any. */
import { signal } from "@preact/signals";

import type { ReadingBody, ReadingStep, TestStep, When } from "./wire";

export type Open =
  | { kind: "reading"; quantity: string; test: string | null; when: When; unit?: string; given?: { value: number; unit: string; point: string }; twin?: ReadingStep }
  | { kind: "test"; test: string | null }
  | { kind: "part"; component: string }
  | { kind: "outcome"; test: string; reading: ReadingBody }
  | { kind: "name"; test: string; outcome: string; reading?: ReadingBody }
  | { kind: "skip"; test: string }
  | { kind: "wrong"; cause: string }
  | { kind: "repair"; cause: string }
  | { kind: "own test" }
  | { kind: "own cause" }
  | { kind: "right test"; step: TestStep }
  | { kind: "right reading"; step: ReadingStep }
  | { kind: "note"; id: string; text: string }
  | { kind: "edit"; id: string }
  | { kind: "reopen"; id: string };

export const sheet = signal<Open | null>(null);
export const closeSheet = (): void => {
  sheet.value = null;
};

export const openReading = (): void => {
  sheet.value = { kind: "reading", quantity: "", test: null, when: "before" };
};
