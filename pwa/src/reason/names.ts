/** Makes and models by name: spellings, short forms, initials and slips, against the names the shop uses. */

import { editsWithin } from "../model/terms";
import { fold } from "./tokens";

const SURE_NAME = 0.9;
const [SHORTEST_SLIP, TWO_SLIPS_FROM] = [4, 8];
const [SHORT, LEFT_OUT] = [3, 2];
const [WHOLE_NAME, MOST_INITIALS] = [6, 3];
const COUNTED = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const VOWELS = new Set("aeiouy");

const partsOf = (name: string): readonly string[] => fold(name).match(/[\p{L}\p{N}]+/gu) ?? [];
const kept = new Map<string, string>();

/** A make or model folded to letters and digits: "C-Max" and "c max" are one. */
export function nameKey(name: string): string {
  const known = kept.get(name);
  if (known !== undefined) return known;
  const key = partsOf(name)
    .map((part) => (COUNTED.includes(part) ? String(COUNTED.indexOf(part) + 1) : part))
    .join("");
  if (kept.size > 20_000) kept.clear();
  kept.set(name, key);
  return key;
}

function jaro(a: string, b: string): number {
  const reach = Math.max(0, Math.floor(Math.max(a.length, b.length) / 2) - 1);
  const taken = new Set<number>();
  const mine: string[] = [];
  [...a].forEach((letter, at) => {
    for (let n = Math.max(0, at - reach); n <= Math.min(b.length - 1, at + reach); n += 1)
      if (!taken.has(n) && b[n] === letter) {
        taken.add(n);
        mine.push(letter);
        return;
      }
  });
  if (!mine.length) return 0;
  const theirs = [...taken].sort((x, y) => x - y).map((n) => b[n]);
  const swapped = Math.floor(mine.filter((letter, n) => letter !== theirs[n]).length / 2);
  return (mine.length / a.length + mine.length / b.length + (mine.length - swapped) / mine.length) / 3;
}

/** Jaro's likeness, raised for a common beginning (Winkler 1990). */
function jaroWinkler(a: string, b: string): number {
  const plain = jaro(a, b);
  let prefix = 0;
  while (prefix < 4 && prefix < Math.min(a.length, b.length) && a[prefix] === b[prefix]) prefix += 1;
  return plain > 0.7 ? plain + 0.1 * prefix * (1 - plain) : plain;
}

const hasDigit = (text: string): boolean => /\d/.test(text);

function isShortForm(short: string, name: string): boolean {
  const [key, whole] = [nameKey(short), nameKey(name)];
  if (hasDigit(key + whole) || key.length < SHORT) return false;
  const words = partsOf(name);
  if (words.length > 1 && key === words[0]) return true;
  const stem = key.replace(/(y|ie|i)$/, "");
  const begins = whole.length - key.length >= LEFT_OUT && whole.startsWith(key);
  return begins || (SHORT < stem.length && stem.length < key.length && key.length < whole.length && whole.startsWith(stem));
}

function isInitials(short: string, name: string): boolean {
  const words = partsOf(name);
  return words.length > 1 && nameKey(short) === words.map((word) => word[0] ?? "").join("");
}

export function isSyllables(short: string, name: string): boolean {
  const [key, whole] = [nameKey(short), nameKey(name)];
  if (key.length < 2 || key.length > MOST_INITIALS || whole.length < WHOLE_NAME || !/^\p{L}+$/u.test(key)) return false;
  const starts = [...whole].filter((letter, at) => at > 0 && at < whole.length - 1 && !VOWELS.has(letter) && !VOWELS.has(whole[at - 1] ?? "") && VOWELS.has(whole[at + 1] ?? ""));
  let at = 0;
  return key[0] === whole[0] && [...key.slice(1)].every((letter) => {
    at = starts.indexOf(letter, at) + 1;
    return at > 0;
  });
}

const ALIASES = [isShortForm, isInitials, isSyllables];
export const isAlias = (one: string, other: string): boolean => ALIASES.some((rule) => rule(one, other) || rule(other, one));

export class Names {
  constructor(readonly byKey: ReadonlyMap<string, string>) {}

  /** The name that is meant; null where none is near or two are equally so. */
  meant(typed: string, { initials = false } = {}): string | null {
    const key = nameKey(typed);
    return this.byKey.get(key) ?? this.slipOf(key) ?? this.alias(typed, key, initials);
  }

  private slipOf(key: string): string | null {
    if (key.length < SHORTEST_SLIP) return null;
    let [best, most] = ["", SURE_NAME];
    for (const other of this.byKey.keys()) {
      const like = jaroWinkler(key, other);
      if (like > most || (like === most && !best)) [best, most] = [other, like];
    }
    if (!best || hasDigit(key + best)) return null;
    return editsWithin(key, best, key.length >= TWO_SLIPS_FROM ? 2 : 1) ? (this.byKey.get(best) ?? null) : null;
  }

  private alias(typed: string, key: string, initials: boolean): string | null {
    const near = [...this.byKey].filter(([other]) => other[0] === key[0]).map(([, name]) => name);
    for (const rule of initials ? ALIASES : [isShortForm, isInitials]) {
      const alike = near.filter((name) => rule(typed, name) || (initials && rule(name, typed)));
      if (alike.length) return alike.length === 1 ? (alike[0] ?? null) : null;
    }
    return null;
  }
}
