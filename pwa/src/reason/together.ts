/** Words that keep coming together count less than as many words that come alone (the phi coefficient). */

import type { Figure } from "./figures";

const bitLength = (value: number): number => (value === 0 ? 0 : 32 - Math.clz32(value));

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let value = n;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value >>> 0;
});

function crc32(text: string): number {
  let value = 0xffffffff;
  for (const byte of new TextEncoder().encode(text)) value = (CRC[(value ^ byte) & 255] ?? 0) ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}

/** The level of a sample over so many cases: each level halves it. */
export const level = (cases: number, sample: number): number => (cases > 0 ? Math.max(0, bitLength(cases - 1) - bitLength(sample) + 1) : 0);

/** The highest level whose sample still holds the case, fixed by its id alone. */
export const levelOf = (caseId: string): number => 32 - bitLength(crc32(caseId));

/** For each word over the sampled cases (1 where it is present) what to divide its weight by, given its uses. */
export function crowding(present: readonly Uint8Array[], uses: readonly number[], cases: number, figure: Figure): Float64Array {
  const [power, fewest] = [figure("together", "POWER"), figure("together", "FEWEST")];
  if (present.length < 2 || cases < fewest) return new Float64Array(present.length).fill(1);
  const known = uses.map((times) => Math.min(times, 1));
  const found = Float64Array.from(known);
  const counts = present.map((row) => row.reduce((sum, each) => sum + each, 0));
  const spread = counts.map((count) => Math.sqrt((count / cases) * (1 - count / cases)));
  for (let a = 0; a < present.length; a += 1)
    for (let b = 0; b < a; b += 1) {
      const [one, two] = [present[a]!, present[b]!];
      const width = spread[a]! * spread[b]!;
      if (counts[a]! < fewest || counts[b]! < fewest || width <= 0) continue;
      let both = 0;
      for (let n = 0; n < one.length; n += 1) both += one[n]! & two[n]!;
      const alike = (both / cases - (counts[a]! / cases) * (counts[b]! / cases)) / width;
      const strength = Math.min(1, Math.max(0, alike)) ** power;
      found[a]! += strength * known[b]!;
      found[b]! += strength * known[a]!;
    }
  return found.map((company) => Math.max(company, 1));
}
