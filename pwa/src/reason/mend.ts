/** Mends words nobody knows to the nearest known word, and says which was read as which. */

import type { Lists } from "../wire-reasoning";
import type { ShortHand } from "./spelling";
import { MAX_CHARS, fold } from "./tokens";
import type { WordBook } from "./wordbook";

type ReadKind = "misheard" | "translated" | "joined" | "slip" | "parted" | "short" | "own" | "sense" | "car";

export interface ReadAs {
  readonly typed: string;
  readonly read: string;
  readonly kind: ReadKind;
  readonly at: number | null;
}

/** The words this copy knows: those of its cases and those of the trade lists. */
export interface Vocabulary {
  readonly book: WordBook;
  readonly knows: (word: string) => boolean;
  readonly usage: (word: string) => number;
  readonly shortHand: ShortHand;
}

export type Mend = (text: string, vocabulary: Vocabulary, kept: ReadonlySet<string>) => { readonly text: string; readonly changes: readonly ReadAs[] };

const WORD = /[\p{L}\p{N}]+(?:['’]\p{L}+)?/gu;
const [TWO_SLIPS_FROM, LONGEST, LONGEST_PHRASE] = [8, 30, 5];
const alphabetic = (word: string): boolean => /^\p{L}+$/u.test(word);

interface Spot {
  readonly start: number;
  readonly end: number;
  readonly word: string;
  /** No digit stands in the same run of signs. */
  readonly plain: boolean;
}

/** A word or phrase as it is compared. */
export const phraseKey = (words: string): string => (words.match(WORD) ?? []).map(fold).join(" ");

function spotsOf(text: string): Spot[] {
  const spots: Spot[] = [];
  for (const chunk of text.matchAll(/\S+/g)) {
    const plain = !/\p{N}/u.test(chunk[0]);
    for (const found of chunk[0].matchAll(WORD)) {
      const start = chunk.index + found.index;
      spots.push({ start, end: start + found[0].length, word: fold(found[0]), plain });
    }
  }
  return spots;
}

const joined = (spots: readonly Spot[], at: number, size: number): string => spots.slice(at, at + size).map(({ word }) => word).join(" ");

/** The stretches of words between those that stay as they are. */
function runsOf(spots: readonly Spot[], kept: ReadonlySet<string>): (readonly Spot[])[] {
  const runs: (readonly Spot[])[] = [];
  let start = 0;
  for (let at = 0; at < spots.length; ) {
    let size = Math.min(LONGEST_PHRASE, spots.length - at);
    while (size > 0 && !kept.has(joined(spots, at, size))) size -= 1;
    if (size) {
      runs.push(spots.slice(start, at));
      start = at + size;
    }
    at += size || 1;
  }
  return [...runs, spots.slice(start)];
}

/** How likely a thumb makes this slip: a letter left out or two swapped come first. */
function slip(typed: string, meant: string): number {
  const sorted = (word: string): string => [...word].sort().join("");
  let likely = meant.length > typed.length || sorted(meant) === sorted(typed) ? 4 : 1;
  if (meant.length === typed.length) likely = Math.max(likely, 2);
  return meant[0] === typed[0] ? likely : likely / 8;
}

function nearest(word: string, { book, knows, usage, shortHand }: Vocabulary, shortest: number): string | null {
  let options = book.withinOne(word).filter(knows);
  if (!options.length && word.length >= TWO_SLIPS_FROM && shortHand.twiceSlipped(word)) options = book.withinTwo(word).filter(knows);
  const worth = (other: string): number => slip(word, other) * (1 + usage(other));
  const fit = options.filter((other) => other.length >= shortest && alphabetic(other));
  return fit.sort((a, b) => worth(b) - worth(a) || (a < b ? 1 : -1))[0] ?? null;
}

/** Two known words typed as one: the split whose rarer half is the most usual. */
function runTogether(word: string, { knows, usage }: Vocabulary, shortest: number): string | null {
  let [best, most] = ["", -1];
  for (let at = shortest; at <= word.length - shortest; at += 1) {
    const [one, two] = [word.slice(0, at), word.slice(at)];
    const rarer = knows(one) && knows(two) ? Math.min(usage(one), usage(two)) : -1;
    if (rarer > most) [best, most] = [`${one} ${two}`, rarer];
  }
  return best || null;
}

export function mender({ words, measures }: Lists): Mend {
  const phrases = new Map(words.phrases.map(([said, ...as]) => [said, as]));
  const numbers = new Set([...measures.small, ...Object.keys(measures.tens)]);
  const { shortest } = words;

  function alone(word: string, vocabulary: Vocabulary): readonly [ReadKind, string | null] {
    const short = (): string | null => {
      const read = vocabulary.shortHand.read(word);
      return read !== word && alphabetic(read) ? read : null;
    };
    const slipped = (): string | null => nearest(word, vocabulary, shortest);
    const parted = (): string | null => runTogether(word, vocabulary, shortest);
    const ways: (readonly [ReadKind, () => string | null])[] = [["slip", slipped], ["parted", parted], ["short", short]];
    // Without vowels a word is short hand rather than a slip of a thumb.
    if (!/[aeiou]/.test(word.slice(1))) ways.unshift(...ways.splice(2));
    for (const [kind, way] of ways) {
      const read = way();
      if (read !== null) return [kind, read];
    }
    return ["slip", null];
  }

  function read(spots: readonly Spot[], at: number, vocabulary: Vocabulary): readonly [number, ReadKind, string | null] {
    for (let size = Math.min(LONGEST_PHRASE, spots.length - at); size > 1; size -= 1) {
      const phrase = phrases.get(joined(spots, at, size));
      if (phrase) return [size, phrase[1], phrase[0]];
    }
    const { word = "", plain = false } = spots[at] ?? {};
    const mendable = plain && !numbers.has(word) && word.length >= shortest && word.length <= LONGEST && alphabetic(word) && !vocabulary.knows(word);
    if (!mendable) return [1, "slip", null];
    const next = spots[at + 1];
    if (next?.plain && vocabulary.knows(word + next.word)) return [2, "joined", word + next.word];
    return [1, ...alone(word, vocabulary)];
  }

  return (whole, vocabulary, kept) => {
    const text = whole.slice(0, MAX_CHARS);
    const changes: ReadAs[] = [];
    for (const run of runsOf(spotsOf(text), kept))
      for (let at = 0; at < run.length; ) {
        const [size, kind, meant] = read(run, at, vocabulary);
        const [start, end] = [run[at]?.start ?? 0, run[at + size - 1]?.end ?? 0];
        if (meant !== null) changes.push({ typed: text.slice(start, end), read: meant, kind, at: start });
        at += size;
      }
    let [mended, done] = ["", 0];
    for (const { at, typed, read: as } of changes) {
      mended += text.slice(done, at ?? 0) + as;
      done = (at ?? 0) + typed.length;
    }
    return { text: mended + text.slice(done), changes };
  };
}
