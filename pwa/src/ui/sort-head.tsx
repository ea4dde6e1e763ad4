/** The head of a column that the table can be sorted by: up, down, then as the rows come. */
import type { JSX } from "preact";

import { sorted, type Cell, type Order } from "../model/rows";
import { locale } from "../texts";

const MARKS = { none: "", ascending: " \u25B2", descending: " \u25BC" } as const;

const turned = (order: Order | null, column: string): Order | null => (order?.column !== column ? { column, down: false } : order.down ? null : { column, down: true });

/** The rows in an order; as they are given without one. */
export const inOrder = <T,>(rows: readonly T[], order: Order | null, value: ((row: T) => Cell) | undefined): readonly T[] =>
  (order && value ? sorted(rows, value, { descending: order.down, locale: locale() }) : rows);

export function SortHead({ id, words, order, onOrder }: { id: string; words: string; order: Order | null; onOrder: (order: Order | null) => void }): JSX.Element {
  const way = order?.column !== id ? "none" : order.down ? "descending" : "ascending";
  return <th scope="col" aria-sort={way}><button type="button" class="sort-head" onClick={() => onOrder(turned(order, id))}>{words}<span aria-hidden="true">{MARKS[way]}</span></button></th>;
}
