/** Two people changed the same field of one case: which field, and what each of them wrote. */

import type { Case, CaseChange } from "../wire";
import { clashes, underPatch, withoutPaths } from "./merge";
import type { Act } from "./outbox";

/** An act that writes over what was there. */
export type Change = Extract<Act, { do: "amend" | "step change" | "part result" }>;

export interface Clash {
  /** A path like `vehicle.year`. */
  readonly field: string;
  readonly mine: unknown;
  readonly theirs: unknown;
}

export const isChange = (act: Act): act is Change => act.do === "amend" || act.do === "step change" || act.do === "part result";

/** What the act changes: the case or one of its steps; null where it is not there. */
function changedIn(act: Change, file: Case | null | undefined): unknown {
  if (!file || act.do === "amend") return file ?? null;
  const steps: readonly { readonly id: string }[] = act.do === "part result" ? file.parts : file[act.of];
  return steps.find(({ id }) => id === act.step) ?? null;
}

/** What the member saw where the act writes; kept with the act, so that a change by others meanwhile is noticed. */
export const seenBy = (act: Change, file: Case | null | undefined): unknown => underPatch(changedIn(act, file), act.change);

const at = (value: unknown, path: string): unknown =>
  path.split(".").reduce<unknown>((inside, key) => (inside as Record<string, unknown> | null)?.[key] ?? null, value);

/** A measure is one thing, and so is what belongs to a step. Empty where nothing clashes, where the thing is gone, and for acts of before it was noted what the member saw. */
export function clashesOf(act: Change, file: Case): readonly Clash[] {
  const now = changedIn(act, file);
  if (now === null || act.before === undefined) return [];
  const fields = clashes(act.change, act.before, now).map((path) => path.split(".").slice(0, act.do === "amend" ? 2 : 1).join("."));
  return [...new Set(fields)].map((field) => ({ field, mine: at(act.change, field), theirs: at(now, field) }));
}

/** The act without the fields that clash: the others' words stay there. Null where nothing is left of it. */
export function yielding(act: Change, file: Case): Change | null {
  const fields = clashesOf(act, file).map(({ field }) => field);
  const change = withoutPaths(act.change as Record<string, unknown>, fields);
  if (Object.keys(change).length === 0) return null;
  const left = { ...act, change: change as CaseChange } as Change;
  return { ...left, before: seenBy(left, file) };
}
