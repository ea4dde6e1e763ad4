/** Character n-grams of a blank-padded word, sizes 3 to 5. */

const SIZES = [3, 4, 5];
const MOST_KEPT = 50_000;
const kept = new Map<string, readonly string[]>();

export function wordGrams(word: string): readonly string[] {
  const known = kept.get(word);
  if (known) return known;
  const padded = ` ${word} `;
  const grams: string[] = [];
  for (const size of SIZES) {
    for (let at = 0; at < Math.max(1, padded.length - size + 1); at += 1) grams.push(padded.slice(at, at + size));
    if (padded.length <= size) break;
  }
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(word, grams);
  return grams;
}
