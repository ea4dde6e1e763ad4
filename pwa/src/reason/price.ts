/** What such jobs came to, to say aloud: least, middle and most of the nearest past cases. */

import type { Case, PriceSpan } from "../wire";
import type { Engine } from "./engine";
import type { Match } from "./likeness";

/** Money the job would be today: billed minutes at today's rate, parts and other money as they were. */
function today({ labour, cost }: Case, rate: number): number {
  const minutes = labour.diagnosis_min + labour.repair_min;
  const billed = Math.max(0, minutes - labour.not_billed_min);
  return (minutes > 0 ? (billed / 60) * rate : cost.labour) + cost.parts + cost.other;
}

/** Median of rising sums weighted by chance; halfway where the weight splits evenly. */
function middle(paid: readonly (readonly [money: number, chance: number])[]): number {
  const half = paid.reduce((sum, [, chance]) => sum + chance, 0) / 2;
  let below = 0;
  for (const [place, [money, chance]] of paid.entries()) {
    below += chance;
    const next = paid[place + 1];
    if (next && Math.abs(below - half) < 1e-9 * half) return (money + next[0]) / 2;
    if (below > half) return money;
  }
  return paid.at(-1)?.[0] ?? 0;
}

/** Over cured cases that are likely the same; two sums are no span. */
export function priceSpan(matches: readonly Match[], { taught, figure }: Engine): PriceSpan | null {
  const { currency, rate_per_hour } = taught;
  const likely = matches.filter(({ chance, doc: { file } }) => {
    const cured = file.state === "closed" && file.cause !== null && !file.returned_as.length;
    const ours = file.cost.currency === currency || !(file.cost.currency || file.cost.total);
    return chance >= figure("price", "LEAST_CHANCE") && cured && ours && today(file, rate_per_hour) > 0;
  });
  const paid = likely.slice(0, figure("price", "MOST_CASES")).map(({ doc, chance }) => [today(doc.file, rate_per_hour), chance] as const);
  if (paid.length < figure("price", "LEAST_CASES")) return null;
  const rising = [...paid].sort(([a], [b]) => a - b);
  return { cases: paid.length, low: rising[0]?.[0] ?? 0, middle: middle(rising), high: rising.at(-1)?.[0] ?? 0, currency };
}
