/** What follows from readings of one job together: subcooling, resistance, charge, total trim. */

import { drawnCurrents, dropResistances, fuseDraws, chargeLeft, standingHours } from "./worked-electric";
import { evenness, filling, trims } from "./worked-engine";
import { gatherer } from "./gathered";
import type { Follows, Gathered, Workshop } from "./gathered";
import { subcooling, superheat } from "./worked-heat";
import { unitShort } from "../model/units";
import type { Judged, ReadingBody } from "../wire";
import { shown } from "./wording";

type Recipe = (held: Gathered, shop: Workshop) => readonly Follows[];

const RECIPES: readonly Recipe[] = [subcooling, superheat, chargeLeft, standingHours, dropResistances, fuseDraws, drawnCurrents, trims, evenness, filling];

/** A reading that follows from others, judged like a measured one. */
interface Derived {
  readonly reading: ReadingBody;
  readonly judged: Judged;
  /** The quantities it was worked out from. */
  readonly of: readonly string[];
}

export type Judges = (reading: ReadingBody) => Judged;
type Derives = (readings: readonly ReadingBody[]) => readonly Derived[];

export function deriver(shop: Workshop, judges: Judges): Derives {
  const gathered = gatherer(shop);

  function derived({ quantity, value, unit, inputs, conditions = {}, how = "" }: Follows): Derived {
    const first = inputs[0]!.reading;
    const reading = { quantity, value: Number(value.toPrecision(4)), unit, point: first.point ?? "", when: first.when ?? "before", conditions };
    const found = judges(reading);
    const told = inputs.map((each) => `${each.quantity.title} ${shown(each.reading.value, each.reading.unit)}`).join(", ");
    const of = [...new Set(inputs.map((each) => each.quantity.id))];
    const judged = { ...found, unit: unitShort(unit), expected: found.expected && { ...found.expected, unit: unitShort(unit) }, why: `From ${told}${how}: ${found.why}` };
    return { reading, judged, of };
  }

  /** Of plausible readings; before and after the correction are kept apart, what was measured is not worked out. */
  return (plausible) =>
    ["before", "after"].flatMap((when) => {
      const taken = plausible.filter((each) => (each.when ?? "before") === when);
      if (!taken.length) return [];
      const held = gathered(taken);
      const found = RECIPES.flatMap((recipe) => recipe(held, shop)).filter(({ quantity, value }) => Number.isFinite(value) && !held.by.has(quantity));
      return found.map(derived).filter(({ judged }) => judged.verdict !== "implausible");
    });
}
