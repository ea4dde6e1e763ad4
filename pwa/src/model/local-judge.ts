/** Judges a reading on the phone against what the trade lists expect; the service's word counts more. */

import type { Band, ConditionValue, Judged, Quantity, ReadingBody, Trade } from "../wire";
import { FormulaError, worked } from "./arithmetic";
import { plausible } from "./reading";
import { convert, unitShort } from "./units";

type Conditions = Readonly<Record<string, ConditionValue>>;
type Expectation =
  | { readonly kind: "band"; readonly band: Band; readonly why: string }
  | { readonly kind: "needs"; readonly needs: readonly string[] }
  | { readonly kind: "none"; readonly why: string };

/** The reading with expected range, verdict (low, ok, high, implausible or unknown) and reason. */
export function judge(reading: ReadingBody, trade: Trade): Judged {
  const quantity = trade.quantities.find((one) => one.id === reading.quantity);
  if (!quantity) return verdict(reading, "unknown", `${reading.quantity} is not in the lists on this phone`);
  const fits = plausible(quantity, reading);
  const source = quantity.source;
  if (fits.kind === "wrong unit") return verdict(reading, "unknown", fits.why, { source });
  if (fits.kind === "question") return verdict(reading, "implausible", fits.why, { source });
  const expected = expectation(quantity, reading.conditions ?? {}, trade);
  if (expected.kind === "none") return verdict(reading, "unknown", expected.why, { source });
  if (expected.kind === "needs") {
    const titles = expected.needs.map((id) => titleOf(id, trade)).join(", ");
    return verdict(reading, "unknown", `needs ${titles}`, { source, needs: expected.needs });
  }
  return compared(reading, quantity, expected);
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

function compared(reading: ReadingBody, quantity: Quantity, { band, why }: Extract<Expectation, { kind: "band" }>): Judged {
  const value = convert(reading.value, reading.unit, band.unit) ?? reading.value;
  const low = band.low !== null && value < band.low;
  const high = band.high !== null && value > band.high;
  const word = low ? "low" : high ? "high" : "ok";
  return verdict(reading, word, why, { expected: band, good: !low && !high, source: quantity.source });
}

function expectation(quantity: Quantity, conditions: Conditions, trade: Trade): Expectation {
  const { expected } = quantity;
  if (expected.kind === "table") return fromTable(quantity, conditions, trade);
  const names = numbersOf(conditions, trade);
  const needs = expected.uses.filter((name) => names[name] === undefined);
  if (needs.length) return { kind: "needs", needs };
  try {
    const band = { low: bound(expected.low, names), high: bound(expected.high, names), unit: quantity.unit };
    if (band.low === null && band.high === null) return { kind: "none", why: "no range is listed" };
    return { kind: "band", band, why: reasonOf(quantity, band) };
  } catch (error) {
    if (!(error instanceof FormulaError)) throw error;
    return { kind: "none", why: `the listed range cannot be worked out here: ${error.message}` };
  }
}

const bound = (given: number | string | null, names: Readonly<Record<string, number>>): number | null =>
  typeof given === "string" ? worked(given, names) : given;

const shown = (value: number): string => String(Number(value.toPrecision(4)));

function rangeOf(band: Band): string {
  const unit = unitShort(band.unit);
  if (band.low === null) return `at most ${shown(band.high ?? 0)} ${unit}`;
  if (band.high === null) return `at least ${shown(band.low)} ${unit}`;
  return `${shown(band.low)} to ${shown(band.high)} ${unit}`;
}

function reasonOf(quantity: Quantity, band: Band): string {
  const range = `expected ${rangeOf(band)}`;
  if (quantity.expected.kind === "maker") return `${range} as a rough guide; the maker's figure counts`;
  return quantity.expected.uses.length ? `${range} under these conditions` : range;
}

/** Conditions as plain numbers in the unit the lists give them in; words and yes/no are left out. */
function numbersOf(conditions: Conditions, trade: Trade): Readonly<Record<string, number>> {
  const numbers: Record<string, number> = {};
  for (const [name, value] of Object.entries(conditions)) {
    const plain = plainNumber(value, trade.conditions.find((one) => one.id === name)?.unit ?? null);
    if (plain !== null) numbers[name] = plain;
  }
  return numbers;
}

function plainNumber(value: ConditionValue, unit: string | null): number | null {
  if (typeof value === "number") return value;
  if (typeof value !== "object") return null;
  return unit === null ? value.value : convert(value.value, value.unit, unit);
}

function fromTable(quantity: Quantity, conditions: Conditions, trade: Trade): Expectation {
  const { choose_by, by, points, tolerance } = quantity.expected;
  const chosen = choose_by === null ? Object.keys(points)[0] : conditions[choose_by];
  const at = by === null ? undefined : numbersOf(conditions, trade)[by];
  const needs = [chosen === undefined ? choose_by : null, at === undefined ? by : null].filter((name) => name !== null);
  if (needs.length || at === undefined) return { kind: "needs", needs };
  const curve = Object.entries(points).find(([name]) => name.toLowerCase() === String(chosen).toLowerCase())?.[1];
  if (!curve) return { kind: "none", why: `no table for ${String(chosen)}; listed: ${Object.keys(points).join(", ")}` };
  const middle = between(curve, at);
  if (middle === null) return { kind: "none", why: `${titleOf(by ?? "", trade)} of ${at} lies outside the table` };
  const band = { low: middle - tolerance, high: middle + tolerance, unit: quantity.unit };
  return { kind: "band", band, why: reasonOf({ ...quantity, expected: { ...quantity.expected, uses: [by ?? ""] } }, band) };
}

/** Straight line between the two points around `x`; null outside them. */
function between(curve: readonly (readonly number[])[], x: number): number | null {
  const sorted = curve.map(([at = NaN, value = NaN]) => ({ at, value })).sort((a, b) => a.at - b.at);
  const after = sorted.findIndex((point) => point.at >= x);
  const [right, left] = [sorted[after], sorted[Math.max(0, after - 1)]];
  if (!right || !left || (after === 0 && right.at !== x)) return null;
  if (right.at === left.at) return right.value;
  return left.value + ((x - left.at) / (right.at - left.at)) * (right.value - left.value);
}
