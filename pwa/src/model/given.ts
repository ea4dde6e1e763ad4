/** The conditions beside a reading, in the units and under the names the quantity's formulas want. */

import type { ConditionValue, Quantity, ReadingBody, Trade, TradeCondition } from "../wire";
import type { Value } from "./arithmetic";
import { convert } from "./units";

export interface Given {
  readonly values: Readonly<Record<string, Value>>;
  /** Not said, but honestly assumed. */
  readonly assumed: ReadonlySet<string>;
}

/** What was said, as the quantity's own conditions, with defaults for what may be assumed. */
export function given(quantity: Quantity, said: ReadingBody["conditions"], trade: Trade): Given {
  const own = quantity.conditions.flatMap((id) => trade.conditions.find((one) => one.id === id) ?? []);
  const values: Record<string, Value> = {};
  const direct = ([name]: readonly [string, unknown]): number => (quantity.conditions.includes(name) ? 0 : 1);
  for (const [name, value] of Object.entries(said ?? {}).sort((a, b) => direct(a) - direct(b))) {
    const condition = meant(name, own, values);
    const settled = condition && settle(value, condition);
    if (condition && settled !== null) values[condition.id] = settled;
  }
  const assumed = own.filter(({ id, default: usual }) => usual !== null && !(id in values));
  assumed.forEach(({ id, default: usual }) => (values[id] = usual ?? 0));
  return { values, assumed: new Set(assumed.map(({ id }) => id)) };
}

/** A plain name such as "temperature" is the first condition, not yet said, that goes by it. */
function meant(name: string, own: readonly TradeCondition[], taken: object): TradeCondition | null {
  const plain = name.trim().toLowerCase();
  const free = own.filter(({ id }) => !(id in taken));
  return free.find(({ id }) => id === plain) ?? free.find(({ also }) => also.includes(plain)) ?? null;
}

function settle(value: ConditionValue, { unit }: TradeCondition): Value | null {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return value;
  if (typeof value === "object") return unit === null ? value.value : convert(value.value, value.unit, unit);
  if (unit === null) return value.trim().toLowerCase();
  return /^-?\d+([.,]\d+)?$/.test(value.trim()) ? Number(value.replace(",", ".")) : null;
}
