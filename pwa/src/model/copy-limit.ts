/** Which cases a phone keeps when the shop has more than a phone should hold. */

import type { Case } from "../wire";

export interface Limits {
  readonly bytes: number;
  /** Years before the newest case. */
  readonly years: number;
}

/** What this phone holds; null where the browser does not say. */
export interface CopyFacts {
  readonly bytes: number | null;
  readonly quota: number | null;
  /** Cases left to the service. */
  readonly leftOut: number;
}

/** So much is read in seconds on an old phone, and no browser minds it. */
const COPY_LIMITS: Limits = { bytes: 24_000_000, years: 15 };

const YEAR_MS = 365.25 * 24 * 3_600_000;

const touched = ({ closed, updated, opened }: Case): string => closed ?? updated ?? opened ?? "";
const bytesOf = (file: Case): number => JSON.stringify(file).length;

/**
 * Ids of the cases to leave to the service. Open ones and those with unsent acts always stay, then the newest, as
 * far as the limits go.
 */
export function overLimit(cases: readonly Case[], unsent: ReadonlySet<string>, { bytes, years }: Limits = COPY_LIMITS): readonly string[] {
  const stays = ({ id, state }: Case): boolean => state === "open" || unsent.has(id);
  let left = cases.filter(stays).reduce((room, file) => room - bytesOf(file), bytes);
  const rest = cases.filter((file) => !stays(file)).sort((a, b) => (touched(a) < touched(b) ? 1 : -1));
  const newest = Date.parse(rest[0] ? touched(rest[0]) : "");
  const tooOld = (file: Case): boolean => newest - Date.parse(touched(file)) > years * YEAR_MS;
  const gone: string[] = [];
  for (const file of rest) {
    left -= bytesOf(file);
    if (left < 0 || tooOld(file)) gone.push(file.id);
  }
  return gone;
}
