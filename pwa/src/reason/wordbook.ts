/** Written words, each with a number, and those that look alike. */

import { editsWithin } from "../model/terms";
import { wordGrams } from "./grams";

const bitsOf = (word: string): readonly [number, number] => {
  let [low, high] = [0, 0];
  for (let at = 0; at < word.length; at += 1) {
    const place = word.charCodeAt(at) & 63;
    if (place < 32) low ^= 1 << place;
    else high ^= 1 << (place - 32);
  }
  return [low, high];
};

function bitCount(value: number): number {
  let bits = value - ((value >>> 1) & 0x55555555);
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
  return (((bits + (bits >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}

/** The word and every form of it with one letter left out. */
function deletions(word: string): Set<string> {
  const found = new Set([word]);
  for (let at = 0; at < word.length; at += 1) found.add(word.slice(0, at) + word.slice(at + 1));
  return found;
}

/** Bits that two slips may change. */
const MOST_APART = 4;

export class WordBook {
  readonly words: string[] = [];
  private readonly numbers = new Map<string, number>();
  private readonly byGram = new Map<string, number[]>();
  private readonly byDeletion = new Map<string, number[]>();
  private readonly grams: number[] = [];
  private readonly bits: (readonly [number, number])[] = [];

  number(word: string): number | undefined {
    return this.numbers.get(word);
  }

  add(word: string): number {
    const known = this.numbers.get(word);
    if (known !== undefined) return known;
    const number = this.words.push(word) - 1;
    this.numbers.set(word, number);
    const grams = new Set(wordGrams(word));
    this.grams.push(grams.size);
    this.bits.push(bitsOf(word));
    for (const gram of grams) listed(this.byGram, gram, number);
    for (const shorter of deletions(word)) listed(this.byDeletion, shorter, number);
    return number;
  }

  /** Other words one slip away. */
  withinOne(word: string): string[] {
    const found = new Set([...deletions(word)].flatMap((shorter) => this.byDeletion.get(shorter) ?? []));
    const words = [...found].sort((a, b) => a - b).map((number) => this.words[number] ?? "");
    return words.filter((other) => other !== word && editsWithin(other, word, 1));
  }

  /** Other words two slips away. */
  withinTwo(word: string): string[] {
    const [low, high] = bitsOf(word);
    return this.words.filter((other, number) => {
      if (Math.abs(other.length - word.length) > 2) return false;
      const [one, two] = this.bits[number] ?? [0, 0];
      if (bitCount(one ^ low) + bitCount(two ^ high) > MOST_APART) return false;
      return editsWithin(other, word, 2) && !editsWithin(other, word, 1);
    });
  }

  /** Numbers of words that share n-grams with this one, most alike first, with the Dice share. */
  alike(word: string, held: (number: number) => boolean, { least, most }: { readonly least: number; readonly most: number }): (readonly [number, number])[] {
    const grams = new Set(wordGrams(word));
    const shared = new Map<number, number>();
    for (const gram of grams) for (const number of this.byGram.get(gram) ?? []) shared.set(number, (shared.get(number) ?? 0) + 1);
    const found: (readonly [number, number])[] = [];
    for (const [number, count] of shared) {
      const like = (2 * count) / (grams.size + (this.grams[number] ?? 0));
      if (like >= least && held(number)) found.push([number, like]);
    }
    const name = (number: number): string => this.words[number] ?? "";
    return found.sort(([a, m], [b, n]) => n - m || (name(a) < name(b) ? -1 : 1)).slice(0, most);
  }
}

function listed(into: Map<string, number[]>, key: string, number: number): void {
  const known = into.get(key);
  if (known) known.push(number);
  else into.set(key, [number]);
}
