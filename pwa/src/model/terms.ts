/** Words as the phone's own search compares them. */

import { codeOf } from "./words";

const EMPTY_WORDS = new Set(
  [
    "a an and are as at be but by can do does for from had has have he her his i if in into",
    "is it its me my no not of off on or out she so that the their them then there they this to too",
    "up was we were when while with you your",
  ]
    .join(" ")
    .split(" "),
);

/** Lower case without accents; what is not a letter or digit parts words. Codes stay whole. */
export function termsOf(text: string): readonly string[] {
  const folded = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const words = folded.match(/[\p{L}\p{N}]+(?:[./'][\p{L}\p{N}]+)*/gu) ?? [];
  return words.flatMap(parted).filter((word) => !EMPTY_WORDS.has(word));
}

/** "a/c" is one word, "hot/cold" two. */
function parted(word: string): readonly string[] {
  const code = codeOf(word);
  if (code) return [code.toLowerCase()];
  const pieces = word.split(/[./']/);
  if (pieces.length > 1 && pieces.every((piece) => piece.length === 1)) return [pieces.join("")];
  return pieces.filter((piece) => piece.length > 0 && piece !== "s").map(singular);
}

/** One form for "fans" and "fan", "leaks" and "leak"; short words and "-ss" stay. */
function singular(word: string): string {
  if (word.length > 4 && word.endsWith("ies")) return `${word.slice(0, -3)}y`;
  return word.length > 3 && word.endsWith("s") && !/(ss|us|is)$/.test(word) ? word.slice(0, -1) : word;
}

/** Edits to turn one word into the other (neighbours swapped count one), or more than `most`. */
export function editsWithin(a: string, b: string, most: number): boolean {
  if (Math.abs(a.length - b.length) > most) return false;
  let older: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) row.push(cell(a, b, { i, j, row, last, older }));
    if (Math.min(...row) > most) return false;
    [older, last] = [last, row];
  }
  return (last[b.length] ?? Infinity) <= most;
}

interface Place {
  readonly i: number;
  readonly j: number;
  readonly row: readonly number[];
  readonly last: readonly number[];
  readonly older: readonly number[];
}

function cell(a: string, b: string, { i, j, row, last, older }: Place): number {
  const get = (line: readonly number[], at: number): number => line[at] ?? Infinity;
  const change = a[i - 1] === b[j - 1] ? 0 : 1;
  const plain = Math.min(get(last, j) + 1, get(row, j - 1) + 1, get(last, j - 1) + change);
  const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
  return swapped ? Math.min(plain, get(older, j - 2) + 1) : plain;
}

/** How well a typed word stands for a known one: 1 the same, less for a beginning or a slip, 0 not. */
export function likeness(typed: string, known: string): number {
  if (typed === known) return 1;
  if (/\d/.test(typed)) return 0;
  if (typed.length >= 3 && known.startsWith(typed)) return 0.5 + 0.4 * (typed.length / known.length);
  const most = typed.length >= 8 ? 2 : typed.length >= 4 ? 1 : 0;
  return most > 0 && editsWithin(typed, known, most) ? 0.6 : 0;
}
