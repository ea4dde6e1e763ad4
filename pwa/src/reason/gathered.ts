/** The readings of one moment laid out for working out what follows from them. */

import type { Value } from "../model/arithmetic";
import { given } from "../model/given";
import type { Given } from "../model/given";
import { convert } from "../model/units";
import type { Quantity, ReadingBody, Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";
import type { Figure } from "./figures";

/** What recipes work with. */
export interface Workshop {
  readonly tables: Lists["worked"];
  readonly figure: Figure;
  readonly trade: Trade;
}

export const workshopOf = (lists: Lists, trade: Trade): Workshop => ({ tables: lists.worked, figure: figuresOf(lists.numbers), trade });

/** A plausible reading: its value in the quantity's unit, its conditions. */
export interface Taken {
  readonly reading: ReadingBody;
  readonly quantity: Quantity;
  readonly own: number;
  readonly known: Given;
}

/** A value that follows: of which readings, and how in words where the inputs alone do not say. */
export interface Follows {
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly inputs: readonly Taken[];
  readonly conditions?: Readonly<Record<string, Value>>;
  readonly how?: string;
}

export interface Gathered {
  readonly by: ReadonlyMap<string, readonly Taken[]>;
  readonly all: (...quantities: readonly string[]) => readonly Taken[];
  readonly last: (quantity: string) => Taken | null;
}

export function numberOf({ known }: Taken, condition: string): number | null {
  const value = known.values[condition];
  return typeof value === "number" ? value : null;
}

export const wordOf = ({ known }: Taken, condition: string): string => String(known.values[condition] ?? "");

export const pointOf = ({ reading }: Taken): string => (reading.point ?? "").trim().toLowerCase();

export function gatherer({ trade }: Workshop): (readings: readonly ReadingBody[]) => Gathered {
  const quantities = new Map(trade.quantities.map((one) => [one.id, one]));
  return (readings) => {
    const by = new Map<string, Taken[]>();
    for (const reading of readings) {
      const quantity = quantities.get(reading.quantity);
      const own = quantity ? convert(reading.value, reading.unit, quantity.unit) : null;
      if (!quantity || own === null) continue;
      by.set(quantity.id, [...(by.get(quantity.id) ?? []), { reading, quantity, own, known: given(quantity, reading.conditions, trade) }]);
    }
    return { by, all: (...ids) => ids.flatMap((id) => by.get(id) ?? []), last: (id) => by.get(id)?.at(-1) ?? null };
  };
}
