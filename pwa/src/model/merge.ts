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
