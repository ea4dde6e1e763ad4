/** Typing a reading on the number pad: what the keys make, in which unit, and whether it can be. */

import type { Measure, Quantity, Reading, ReadingBody, Shop, When } from "../wire";
import { plainNumber } from "./format";
import { convert, unitShort, unitWords } from "./units";
import { t } from "../texts";

export type PadKey = "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9" | "." | "-" | "back" | "clear";

const MOST_DIGITS = 9;

/** The pad's text after one key; a key that makes no number leaves it as it was. */
export function pressed(typed: string, key: PadKey): string {
  if (key === "clear") return "";
  if (key === "back") return typed.slice(0, -1);
  if (key === "-") return typed.startsWith("-") ? typed.slice(1) : `-${typed}`;
  if (key === ".") return typed.includes(".") ? typed : `${/\d/.test(typed) ? typed : `${typed}0`}.`;
  if (typed.replace(/\D/g, "").length >= MOST_DIGITS) return typed;
  return /^-?0$/.test(typed) ? typed.slice(0, -1) + key : typed + key;
}

/** The number typed; a decimal comma counts; null while there is none. */
export function padValue(typed: string): number | null {
  const plain = typed.trim().replace(",", ".");
  if (!/^-?\d+(\.\d*)?$/.test(plain)) return null;
  return Number(plain);
}

const US_UNITS = new Set([
  "psi",
  "degF",
  "delta_degF",
  "inch",
  "inch_Hg",
  "inch_H2O",
  "mile/hour",
  "force_pound*foot",
  "ounce",
]);

/** The units a quantity may be given in, its own first. */
export const unitsOf = (quantity: Quantity): readonly string[] => [
  ...new Set([quantity.unit, ...quantity.accepted_units]),
];

/** The unit to offer first, by the shop's habit. */
export function usualUnit(quantity: Quantity, system: Shop["unit_system"]): string {
  if (system === "si") return quantity.unit;
  return unitsOf(quantity).find((unit) => US_UNITS.has(unit)) ?? quantity.unit;
}

/** Enough decimals for a workshop: four figures, no trailing zeros. */
export const rounded = (value: number): number => Number(value.toPrecision(4));

type Plausible =
  | { readonly kind: "plausible" }
  | { readonly kind: "wrong unit"; readonly why: string }
  | { readonly kind: "question"; readonly why: string; readonly instead: Measure | null };

function within(quantity: Quantity, measure: Measure): boolean | null {
  const value = convert(measure.value, measure.unit, quantity.unit);
  if (value === null) return null;
  const { hard_low: low, hard_high: high } = quantity;
  return (low === null || value >= low) && (high === null || value <= high);
}

/** The same number in another accepted unit, when that one could be meant. */
function meant(quantity: Quantity, measure: Measure): Measure | null {
  const other = unitsOf(quantity).filter((unit) => unit !== measure.unit);
  const unit = other.find((one) => within(quantity, { ...measure, unit: one }));
  return unit === undefined ? null : { value: measure.value, unit };
}

/** What can be, in the unit as typed. */
const limits = (quantity: Quantity, typed: string): string => {
  const turned = (value: number | null): number | null => (value === null ? null : rounded(convert(value, quantity.unit, typed) ?? value));
  const [low, high] = [turned(quantity.hard_low), turned(quantity.hard_high)];
  const unit = unitShort(typed);
  if (low === null) return high === null ? "" : t().reading.notAbove(plainNumber(high), unit);
  return high === null ? t().reading.notBelow(plainNumber(low), unit) : t().reading.between(plainNumber(low), plainNumber(high), unit);
};

/** Whether the value can be at all. It is questioned, never dropped. */
export function plausible(quantity: Quantity, measure: Measure): Plausible {
  const fits = within(quantity, measure);
  if (fits === null) {
    const units = unitsOf(quantity).map(unitWords).join(", ");
    return { kind: "wrong unit", why: t().reading.givenIn(quantity.title, units, measure.unit) };
  }
  if (fits) return { kind: "plausible" };
  const why = t().reading.cannotBe(`${plainNumber(measure.value)} ${unitShort(measure.unit)}`, quantity.title, limits(quantity, measure.unit));
  return { kind: "question", why, instead: meant(quantity, measure) };
}

export interface Typed {
  readonly typed: string;
  readonly unit: string;
  readonly point?: string;
  readonly when?: When;
  readonly conditions?: Reading["conditions"];
}

/** The pad's text as a reading; null while no number is typed. The usual test point stands in. */
export function toReading(quantity: Quantity, given: Typed): ReadingBody | null {
  const value = padValue(given.typed);
  if (value === null) return null;
  return {
    quantity: quantity.id,
    value,
    unit: given.unit,
    point: given.point?.trim() || quantity.test_point,
    when: given.when ?? "before",
    ...(given.conditions && Object.keys(given.conditions).length > 0 && { conditions: given.conditions }),
  };
}
