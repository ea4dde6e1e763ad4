/** JSON merge patches (RFC 7396), and whether somebody else changed the same fields meanwhile. */

import { isObject } from "../wire";

/** `target` with the patch laid over it; null takes a value away (here: leaves null). */
export function mergePatch(target: unknown, patch: unknown): unknown {
  if (!isObject(patch)) return patch;
  const merged: Record<string, unknown> = { ...(isObject(target) ? target : {}) };
  for (const [key, value] of Object.entries(patch)) {
    merged[key] = value === null ? null : mergePatch(merged[key], value);
  }
  return merged;
}

/** The part of `value` that the patch speaks of, in the patch's own shape. */
export function underPatch(value: unknown, patch: unknown): unknown {
  if (!isObject(patch)) return value ?? null;
  const inner = isObject(value) ? value : {};
  return Object.fromEntries(Object.entries(patch).map(([key, deeper]) => [key, underPatch(inner[key], deeper)]));
}

export function same(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((one, i) => same(one, b[i]));
  if (!isObject(a) || !isObject(b)) return a === b;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].every((key) => same(a[key], b[key]));
}

/**
 * The part of the patch that says other than what is there; an empty object where it says nothing new.
 * Fields of a case's own parts (`vehicle.year`) are told apart; a measure or a list is one thing.
 */
export function changedOnly(patch: Record<string, unknown>, now: unknown, depth = 1): Record<string, unknown> {
  const there = isObject(now) ? now : {};
  return Object.fromEntries(
    Object.entries(patch).flatMap(([key, wanted]) => {
      const old = there[key] ?? null;
      if (depth === 0 || !isObject(wanted) || !isObject(old)) return same(wanted ?? null, old) ? [] : [[key, wanted] as const];
      const inner = changedOnly(wanted, old, depth - 1);
      return Object.keys(inner).length > 0 ? [[key, inner] as const] : [];
    }),
  );
}

/** The patch without what it says at these paths (`vehicle.year`). */
export function withoutPaths(patch: Record<string, unknown>, paths: readonly string[], at = ""): Record<string, unknown> {
  const rest = Object.entries(patch).flatMap(([key, value]) => {
    const here = at ? `${at}.${key}` : key;
    if (paths.includes(here)) return [];
    const inner = isObject(value) ? withoutPaths(value, paths, here) : value;
    const emptied = isObject(inner) && isObject(value) && Object.keys(inner).length === 0 && Object.keys(value).length > 0;
    return emptied ? [] : [[key, inner] as const];
  });
  return Object.fromEntries(rest);
}

/**
 * Where somebody else changed a field that the patch changes too: paths like `vehicle.year`.
 * `before` is what the member saw, `now` what the service has; a field already as wanted is no clash.
 */
export function clashes(patch: unknown, before: unknown, now: unknown, at = ""): readonly string[] {
  if (isObject(patch) && (isObject(before) || isObject(now))) {
    return Object.keys(patch).flatMap((key) => {
      const old = isObject(before) ? before[key] : null;
      const current = isObject(now) ? now[key] : null;
      return clashes(patch[key], old, current, at ? `${at}.${key}` : key);
    });
  }
  const seen = before ?? null;
  const current = now ?? null;
  return same(current, seen) || same(current, patch ?? null) ? [] : [at];
}
