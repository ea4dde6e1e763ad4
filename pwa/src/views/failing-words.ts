/** Marks of a row, and values of its key, in words. */
import type { Name } from "../model/failing-view";
import type { Recurrence, Trade } from "../wire";
import { titleOf } from "./words";
import { t } from "../texts";

export const MARKS: Readonly<Record<Recurrence["signal"], string>> = { get strong() { return t().failing.standsOutStrongly; }, get signal() { return t().failing.standsOut; }, get none() { return t().failing.asExpected; } };

export function valueWords(trade: Trade, name: Name, value: string): string {
  const lists = { system: trade.systems, component: trade.components, cause: trade.causes } as const;
  return name in lists ? titleOf(lists[name as keyof typeof lists], value) : value;
}
