/** The sheet laid over the screen, if any. */
import { signal } from "@preact/signals";

import type { ReadingBody, ReadingStep, When } from "./wire";

export type Open =
  | { kind: "reading"; quantity: string; test: string | null; when: When; unit?: string; given?: { value: number; unit: string; point: string }; twin?: ReadingStep }
  | { kind: "test"; test: string | null }
  | { kind: "part"; component: string }
  | { kind: "outcome"; test: string; reading: ReadingBody }
  | { kind: "name"; test: string; outcome: string; reading?: ReadingBody }
  | { kind: "note"; id: string; text: string }
  | { kind: "edit"; id: string }
  | { kind: "reopen"; id: string };

export const sheet = signal<Open | null>(null);
export const closeSheet = (): void => {
  sheet.value = null;
};
