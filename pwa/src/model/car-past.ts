/** The earlier visits of a car: told by its VIN, or by a comeback; a like car is not taken for the same one. */

import type { Case } from "../wire";

interface Asked {
  readonly id: string;
  readonly vehicle: { readonly vin: string | null };
  readonly comeback_of?: string | null;
}

const touched = (file: Case): string => file.closed ?? file.updated ?? file.opened ?? "";

/** The case's forebears: what it came back from, and what that came back from. */
function forebears(asked: Asked, byId: ReadonlyMap<string, Case>): ReadonlySet<string> {
  const found = new Set<string>();
  for (let at = asked.comeback_of ?? null; at !== null && !found.has(at); at = byId.get(at)?.comeback_of ?? null) found.add(at);
  return found;
}

/** Newest first, without the case itself and those joined into others. */
export function pastOf<T extends Case>(asked: Asked, files: readonly T[]): readonly T[] {
  const byId = new Map(files.map((each) => [each.id, each]));
  const before = forebears(asked, byId);
  const vins = new Set([asked.vehicle.vin, ...[...before].map((id) => byId.get(id)?.vehicle.vin ?? null)].filter((each) => each !== null && each !== ""));
  const same = (file: Case): boolean => before.has(file.id) || (file.vehicle.vin !== null && vins.has(file.vehicle.vin));
  return files.filter((file) => file.id !== asked.id && !file.joined_into && same(file)).sort((a, b) => (touched(a) < touched(b) ? 1 : -1));
}
