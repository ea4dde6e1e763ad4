/** What a quantity should read under given conditions, from the trade lists on this phone. */

import type { Quantity } from "../wire";
import { FormulaError, namesIn, worked } from "./arithmetic";
import type { Names, Value } from "./arithmetic";
import type { Given } from "./given";
import { t } from "../texts";

export type Expectation =
  | {
      readonly kind: "range";
      readonly low: number;
      readonly high: number;
      readonly edges: readonly number[];
      readonly uses: readonly string[];
    }
  | { readonly kind: "unknown"; readonly why: string; readonly needs: readonly string[] };

export function expectation(quantity: Quantity, known: Given): Expectation {
  try {
    return quantity.expected.kind === "table" ? fromTable(quantity, known) : fromBounds(quantity, known);
  } catch (error) {
    if (!(error instanceof FormulaError)) throw error;
    return { kind: "unknown", why: t().judged.cannotBeWorkedOut(error.message), needs: [] };
  }
}

const unknown = (why: string, needs: readonly string[] = []): Expectation => ({ kind: "unknown", why, needs });
const without = (needs: readonly string[]): Expectation =>
  unknown(t().judged.without(needs.join(", ")), needs);
const lacking = (names: readonly string[], { values }: Given): readonly string[] =>
  [...new Set(names)].filter((name) => !(name in values)).sort();

const edgeNames = (quantity: Quantity): readonly string[] =>
  quantity.edges.flatMap(namesIn).filter((name) => name !== "low" && name !== "high");

function fromBounds(quantity: Quantity, known: Given): Expectation {
  const { low, high } = quantity.expected;
  return ranged(quantity, [low ?? 0, high ?? 0], known, [...namesIn(low), ...namesIn(high)]);
}

/** A formula may leave a branch unused, so only a failure tells what is really missing. */
function ranged(
  quantity: Quantity,
  [low, high]: readonly [Value, Value],
  known: Given,
  names: readonly string[],
): Expectation {
  const uses = [...names, ...edgeNames(quantity)];
  try {
    const band = { low: worked(low, known.values), high: worked(high, known.values) };
    const scope: Names = { ...known.values, ...band };
    return { kind: "range", ...band, edges: quantity.edges.map((edge) => worked(edge, scope)), uses };
  } catch (error) {
    const needs = lacking(uses, known);
    if (!(error instanceof FormulaError) || needs.length === 0) throw error;
    return without(needs);
  }
}

function fromTable(quantity: Quantity, known: Given): Expectation {
  const { choose_by, by, points, tolerance } = quantity.expected;
  const names = [choose_by, by].filter((name) => name !== null);
  const needs = lacking(names, known);
  if (needs.length) return without(needs);
  const chosen = String(known.values[choose_by ?? ""] ?? Object.keys(points)[0]);
  const curve = Object.entries(points).find(([name]) => name.toLowerCase() === chosen.toLowerCase())?.[1];
  if (!curve)
    return unknown(t().judged.noTableFor(chosen, Object.keys(points).join(", ")), names.slice(0, 1));
  const at = Number(known.values[by ?? ""]);
  const middle = between(curve, at);
  if (middle === null) return unknown(t().judged.outsideTheTable(at), names.slice(-1));
  const raised = middle + (choose_by === "refrigerant" ? thinnerAir(Number(known.values["altitude_m"] ?? 0)) : 0);
  return ranged(quantity, [raised - tolerance, raised + tolerance], known, names);
}

const SEA_LEVEL_KPA = 101.325;
const [LOWEST_M, HIGHEST_M] = [-500, 5000];

/** kPa of the standard atmosphere at a height. */
const airAt = (altitudeM: number): number => SEA_LEVEL_KPA * (1 - 2.25577e-5 * altitudeM) ** 5.25588;

/** The same at heights where cars drive; null beyond. */
export const airPressure = (altitudeM: number): number | null => (altitudeM < LOWEST_M || altitudeM > HIGHEST_M ? null : airAt(altitudeM));

/** kPa a gauge shows more at a height than at the sea: the air beside it weighs less. */
const thinnerAir = (altitudeM: number): number => SEA_LEVEL_KPA - airAt(altitudeM);

/** Straight line between the two points around `x`; null outside them. */
function between(curve: readonly (readonly number[])[], x: number): number | null {
  const sorted = curve.map(([at = NaN, value = NaN]) => ({ at, value })).sort((a, b) => a.at - b.at);
  const after = sorted.findIndex((point) => point.at >= x);
  const [right, left] = [sorted[after], sorted[Math.max(0, after - 1)]];
  if (!right || !left || (after === 0 && right.at !== x)) return null;
  if (right.at === left.at) return right.value;
  return left.value + ((x - left.at) / (right.at - left.at)) * (right.value - left.value);
}
