/** Reads workshop short hand by the words that are known: vowels left out, words cut short, a slipped letter. */

import { editsWithin } from "../model/terms";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";

export interface ShortHand {
  /** The reading of a folded word that is not known, itself where nothing fits. */
  readonly read: (word: string) => string;
  /** Whether a word looks so little like any that two slips in it are likelier than a rare word. */
  readonly twiceSlipped: (word: string) => boolean;
}

const alphabetic = (word: string): boolean => /^\p{L}+$/u.test(word);
const consonantsOf = (word: string): string => (word[0] ?? "") + word.slice(1).replace(/[aeiou]/g, "");

/** The runs of three letters of a word, its edges among them. */
function runsOf(word: string): string[] {
  const padded = `  ${word} `;
  return Array.from({ length: word.length + 1 }, (_, at) => padded.slice(at, at + 3));
}

function grouped(words: readonly string[], keys: (word: string) => readonly string[]): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const word of words) for (const key of keys(word)) found.set(key, [...(found.get(key) ?? []), word]);
  return found;
}

/** Reads by these known words with their use. */
export function shortHand({ numbers, words: { endings, grown } }: Lists, words: ReadonlyMap<string, number>): ShortHand {
  const figure = figuresOf(numbers);
  const at = (name: string): number => figure("spelling", name);
  const meant = new Map([...words].filter(([word]) => alphabetic(word)));
  const candidates = [...meant.keys()].filter((word) => word.length > 2);
  const runs = new Map<string, number>();
  for (const word of words.keys()) if (alphabetic(word)) for (const run of runsOf(word)) runs.set(run, (runs.get(run) ?? 0) + 1);
  const bare = grouped(candidates, (word) => [consonantsOf(word)]);
  const starts = grouped(candidates, (word) => Array.from({ length: Math.max(0, word.length - 2) }, (_, n) => word.slice(0, n + 2)));
  const rarest = (word: string): number => Math.min(...runsOf(word).map((run) => runs.get(run) ?? 0));
  const use = (word: string): number => meant.get(word) ?? 0;
  const kept = new Map<string, string>();

  function grownFromKnown(word: string): boolean {
    for (const [ending, stems] of Object.entries(endings)) {
      if (!word.endsWith(ending)) continue;
      const cut = word.slice(0, -ending.length);
      if (stems.some((stem) => words.has(cut + stem))) return true;
      if (cut.length > 3 && cut.at(-1) === cut.at(-2) && words.has(cut.slice(0, -1))) return true;
    }
    return grown.some((ending) => words.has(word + ending));
  }

  function mostUsual(options: readonly string[], least: number): string | null {
    const best = [...options].sort((a, b) => use(b) - use(a) || (a < b ? 1 : -1))[0];
    return best !== undefined && use(best) >= least ? best : null;
  }

  const withoutVowels = (word: string, odd: number): string | null =>
    odd > at("WITHOUT_VOWELS") ? null : mostUsual((bare.get(consonantsOf(word)) ?? []).filter((other) => other.length > word.length), at("OFTEN"));

  function slipped(word: string, odd: number): string | null {
    if (word.length < 4) return null;
    const most = word.length >= 8 ? 2 : 1;
    const near = candidates
      .filter((other) => other[0] === word[0] && use(other) >= 2 && editsWithin(other, word, most))
      .map((other) => ({ other, slips: editsWithin(other, word, 1) ? 1 : 2 }))
      .sort((a, b) => a.slips - b.slips || use(b.other) - use(a.other) || (a.other < b.other ? -1 : 1))[0];
    if (!near) return null;
    const limit = near.slips === 2 ? at("SLIPPED_TWICE") : word.length > 5 ? at("SLIPPED") : at("SLIPPED_SHORT");
    return odd <= limit ? near.other : null;
  }

  function cut(word: string, odd: number): string | null {
    const longer = starts.get(word) ?? [];
    const best = word.length >= 3 && odd <= at("CUT") ? mostUsual(longer, at("VERY_OFTEN")) : null;
    return best !== null && 2 * use(best) >= longer.reduce((sum, other) => sum + use(other), 0) ? best : null;
  }

  function guess(word: string): string {
    if (!alphabetic(word) || grownFromKnown(word)) return word;
    const odd = rarest(word);
    return withoutVowels(word, odd) ?? slipped(word, odd) ?? cut(word, odd) ?? word;
  }

  function read(word: string): string {
    const known = kept.get(word) ?? (words.has(word) || word.length < 2 ? word : guess(word));
    kept.set(word, known);
    return known;
  }

  return { read, twiceSlipped: (word) => rarest(word) <= at("SLIPPED_TWICE") };
}
