/** What trims, compressions and air mass come to together. */

import { airPressure } from "../model/expected";
import { numberOf, pointOf, wordOf } from "./gathered";
import type { Follows, Gathered, Taken, Workshop } from "./gathered";

const AIR_KJ_PER_KG_K = 0.28705;
const ABSOLUTE_ZERO_C = -273.15;
const [COLDEST_INTAKE_C, HOTTEST_INTAKE_C] = [-60, 150];

const bankOf = (taken: Taken): string => wordOf(taken, "bank") || pointOf(taken);

/** Total trim of each bank that has both a short and a long term trim; the latest pair counts. */
export function trims(held: Gathered): readonly Follows[] {
  const byBank = (quantity: string): Map<string, Taken> => new Map(held.all(quantity).map((taken) => [bankOf(taken), taken]));
  const long = byBank("ltft");
  return [...byBank("stft")].flatMap(([bank, short]) => {
    const other = long.get(bank);
    if (!other) return [];
    return [{ quantity: "trim_total", value: short.own + other.own, unit: "percent", inputs: [short, other], ...(bank && { conditions: { bank } }) }];
  });
}

/** How uneven the cylinders are, dry and wet apart, once two of them are measured; the lowest is named. */
export function evenness(held: Gathered, { figure }: Workshop): readonly Follows[] {
  const groups = new Map<string, Map<string, Taken>>();
  for (const taken of held.all("compression")) {
    const group = groups.get(wordOf(taken, "wet_or_dry")) ?? new Map<string, Taken>();
    groups.set(wordOf(taken, "wet_or_dry"), group.set(pointOf(taken) || String(group.size), taken));
  }
  return [...groups.values()].flatMap((group) => {
    const cylinders = [...group.values()];
    const highest = Math.max(...cylinders.map(({ own }) => own));
    if (cylinders.length < 2 || highest < figure("uneven", "LEAST_KPA")) return [];
    const lowest = cylinders.reduce((low, each) => (each.own < low.own ? each : low));
    const { point } = lowest.reading;
    return [{ quantity: "compression_spread", value: (1 - lowest.own / highest) * 100, unit: "percent", inputs: cylinders, how: point ? `, lowest at ${point}` : "" }];
  });
}

/** Volumetric efficiency from the air mass at full load; nothing without displacement, speed and air. */
export function filling(held: Gathered): readonly Follows[] {
  const air = held.last("maf_full");
  if (!air || wordOf(air, "engine_type").includes("boost")) return [];
  const [litres, rpm, intake] = [numberOf(air, "engine_litres"), numberOf(air, "engine_rpm"), numberOf(air, "ambient_c")];
  const outside = airPressure(numberOf(air, "altitude_m") ?? 0);
  if (litres === null || rpm === null || intake === null || outside === null) return [];
  const ideal = (outside / (AIR_KJ_PER_KG_K * (intake - ABSOLUTE_ZERO_C))) * litres * (rpm / 120);
  if (intake < COLDEST_INTAKE_C || intake > HOTTEST_INTAKE_C || ideal <= 0) return [];
  return [{ quantity: "vol_eff", value: (100 * air.own) / ideal, unit: "percent", inputs: [air], how: " against cylinders completely filled" }];
}
