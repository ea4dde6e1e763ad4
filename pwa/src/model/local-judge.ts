/** Judges a reading on the phone against what the trade lists expect; the service's word counts more. */

import type { Band, Judged, Quantity, ReadingBody, Trade } from "../wire";
import { expectation } from "./expected";
import type { Expectation } from "./expected";
import { given } from "./given";
import type { Given } from "./given";
import { plainNumber } from "./format";
import { plausible } from "./reading";
import { convert, here, unitShort } from "./units";
import { t } from "../texts";

type Range = Extract<Expectation, { kind: "range" }>;

/** The verdict is a word of the quantity's ladder, "implausible" beyond its hard limits, or "unknown". */
export function judge(reading: ReadingBody, trade: Trade): Judged {
  const quantity = trade.quantities.find((one) => one.id === reading.quantity);
  if (!quantity) return verdict(reading, "unknown", t().judged.notInTheLists(reading.quantity));
  const { source } = quantity;
  const fits = plausible(quantity, reading);
  if (fits.kind === "wrong unit") return verdict(reading, "unknown", fits.why, { source });
  if (fits.kind === "question") return verdict(reading, "implausible", fits.why, { source });
  const known = given(quantity, reading.conditions, trade);
  const limits = expectation(quantity, known);
  if (limits.kind === "range") return compared(reading, quantity, limits, { known, trade });
  const asked = limits.needs.map((id) => titleOf(id, trade)).join("; ");
  const why = limits.why + (asked ? t().judged.pleaseGive(asked) : "");
  return verdict(reading, "unknown", `${quantity.title}: ${why}.`, { source, needs: limits.needs });
}

type More = Partial<Pick<Judged, "expected" | "good" | "source" | "needs">>;

const verdict = (reading: ReadingBody, word: string, why: string, more: More = {}): Judged => ({
  quantity: reading.quantity,
  value: reading.value,
  unit: reading.unit,
  point: reading.point ?? "",
  expected: null,
  good: null,
  source: "",
  needs: [],
  ...more,
  verdict: word,
  why,
});

const titleOf = (condition: string, trade: Trade): string =>
  trade.conditions.find((one) => one.id === condition)?.title ?? condition.replaceAll("_", " ");

interface Beside {
  readonly known: Given;
  readonly trade: Trade;
}

function compared(reading: ReadingBody, quantity: Quantity, limits: Range, beside: Beside): Judged {
  const own = convert(reading.value, reading.unit, quantity.unit) ?? reading.value;
  const word = quantity.ladder[stepOf(quantity, own, limits.edges)] ?? "unknown";
  const maker = quantity.expected.kind === "maker";
  const band = shownBand(quantity, limits, reading.unit);
  const why = reasonOf(quantity, band, told(quantity, limits, beside));
  const good = maker || word === "unknown" ? null : quantity.good.includes(word);
  return verdict(reading, word, why, { expected: band, good, source: quantity.source });
}

/** How far up the ladder the value climbs; on an edge it takes the good side. */
const stepOf = (quantity: Quantity, value: number, edges: readonly number[]): number =>
  edges.filter((edge, at) => {
    if (Math.abs(value - edge) <= 1e-9 * Math.max(1, Math.abs(edge)))
      return !quantity.good.includes(quantity.ladder[at] ?? "");
    return value > edge;
  }).length;

/** The range in the unit as typed; a side no verdict minds is open. */
function shownBand(quantity: Quantity, limits: Range, unit: string): Band {
  const side = (which: "low" | "high"): number | null => {
    const value = quantity.edges.includes(which) ? convert(limits[which], quantity.unit, unit) : null;
    return value === null ? null : Number(value.toPrecision(4));
  };
  return { low: side("low"), high: side("high"), unit };
}

const UNIT_ENDINGS = new Set(["a", "bar", "c", "cca", "grams", "kmh", "kpa", "m", "pct", "v"]);

/** A condition's short name: "battery temp" for battery_temp_c. */
function labelOf(id: string): string {
  const words = id.split("_");
  return (words.length > 1 && UNIT_ENDINGS.has(words.at(-1) ?? "") ? words.slice(0, -1) : words).join(" ");
}

const unitOf = (id: string, trade: Trade): string =>
  trade.conditions.find((one) => one.id === id)?.unit ?? "";

/** A condition's value in the unit the shop reads. */
function valueWords(value: unknown, unit: string): string {
  if (typeof value !== "number") return String(value ?? "");
  const mine = here({ value, unit });
  return `${plainNumber(mine.value)} ${unitShort(mine.unit)}`.trim();
}

/** "battery temp 25 °C (assumed)": what the range rests on. */
function told(quantity: Quantity, { uses }: Range, { known, trade }: Beside): string {
  const used = quantity.conditions.filter((name) => uses.includes(name) && name in known.values);
  return used
    .map(
      (name) =>
        `${labelOf(name)} ${valueWords(known.values[name], unitOf(name, trade))}` +
        (known.assumed.has(name) ? ` ${t().judged.assumed}` : ""),
    )
    .join(", ");
}

function rangeOf(band: Band): string {
  const unit = unitShort(band.unit);
  if (band.low === null) return band.high === null ? t().judged.nothingUnusual : t().judged.atMost(plainNumber(band.high), unit);
  return band.high === null ? t().judged.atLeast(plainNumber(band.low), unit) : t().judged.between(plainNumber(band.low), plainNumber(band.high), unit);
}

function reasonOf(quantity: Quantity, band: Band, conditions: string): string {
  const range = t().judged.expected(rangeOf(band), conditions);
  const maker = quantity.expected.kind === "maker" ? t().judged.makerDecides : "";
  return [range, quantity.expected.note && t().judged.note(quantity.expected.note), maker].filter(Boolean).join(" ");
}
