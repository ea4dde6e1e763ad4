/** How parts did before, and whether the member is a manager: asked for on several places. */
import { signal } from "@preact/signals";

import { load, nothingYet, phone } from "./app-state";
import type { Loaded } from "./views/trouble";
import type { PartsReport } from "./wire";

export const partsReport = signal<Loaded<PartsReport>>(nothingYet);

export const isManager = (): boolean => phone.me.peek()?.member.role === "manager";

export const loadParts = (): Promise<void> => load(partsReport, () => phone.parts());
