/** What volts, millivolts and ohms come to: resistance, current, charge, hours to a flat battery. */

import { numberOf, wordOf } from "./gathered";
import type { Follows, Gathered, Taken, Workshop } from "./gathered";
import { general, shown } from "./wording";

/** On straight lines between points with x rising; the end values beyond them. */
function straight(points: readonly (readonly [number, number])[], x: number): number {
  const after = points.findIndex(([at]) => at > x);
  if (after === 0) return points[0]![1];
  if (after < 0) return points.at(-1)![1];
  const [[x0, y0], [x1, y1]] = [points[after - 1]!, points[after]!];
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
}

/** The resistance behind each voltage drop whose current is known, against its drop's own limit. */
export function dropResistances(held: Gathered, { tables, figure }: Workshop): readonly Follows[] {
  const currentOf = (drop: Taken): number | null => {
    const [condition, measured] = tables.current_of[drop.quantity.id] ?? ["", ""];
    const current = numberOf(drop, condition) || (held.last(measured)?.own ?? null);
    return current !== null && current >= figure("worked", "LEAST_A") ? current : null;
  };
  return held.all(...Object.keys(tables.current_of)).flatMap((drop) => {
    const [current, limit] = [currentOf(drop), drop.quantity.expected.high];
    if (current === null || typeof limit !== "number") return [];
    return [{ quantity: "drop_ohm", value: (drop.own / current) * 1000, unit: "milliohm", inputs: [drop], conditions: { load_a: current, drop_limit_v: limit }, how: ` at ${shown(current, "A")}` }];
  });
}

/** The current through each fuse of a sleeping car; the car's draw too where one fuse alone exceeds it. */
export function fuseDraws(held: Gathered, { tables, figure }: Workshop): readonly Follows[] {
  const [smallest = 0, largest = 0] = [tables.fuse_ohm[0]?.[0], tables.fuse_ohm.at(-1)?.[0]];
  return held.all("fuse_mv").flatMap((drop) => {
    const rating = numberOf(drop, "fuse_rating_a");
    if (rating === null || rating < smallest || rating > largest) return [];
    const value = drop.own / straight(tables.fuse_ohm, rating);
    const [low, high] = [value / (1 + tables.fuse_spread), value / (1 - tables.fuse_spread)];
    const how = ` on a ${general(rating)} A fuse, ${general(low, 3)} to ${shown(high, "mA")}`;
    const draw = { value, unit: "milliampere", inputs: [drop] };
    const fuse = { ...draw, quantity: "fuse_draw", conditions: { fuse_rating_a: rating }, how };
    return low > figure("worked", "LEAST_FUSE_DRAW_MA") ? [fuse, { ...draw, quantity: "key_off_draw", how: `${how}, this circuit alone` }] : [fuse];
  });
}

/** What each coil would draw, from its resistance as measured; piezo injectors are no coils. */
export function drawnCurrents(held: Gathered, { tables, figure }: Workshop): readonly Follows[] {
  const rest = held.last("batt_rest");
  const said = [...held.by.values()].flat().map((taken) => numberOf(taken, "battery_v")).find((volts) => volts);
  const volts = said || (rest && rest.own > 0 ? rest.own : figure("worked", "BATTERY_V"));
  return held.all(...tables.coils).flatMap((coil) => {
    const { low, high } = coil.quantity.expected;
    if (coil.own <= 0 || wordOf(coil, "injector_type").includes("piezo") || typeof low !== "number" || typeof high !== "number") return [];
    const conditions = { battery_v: volts, low_ohm: low, high_ohm: high };
    return [{ quantity: "coil_a", value: volts / coil.own, unit: "ampere", inputs: [coil], conditions, how: ` on ${shown(volts, "V")}` }];
  });
}

/** The charge of a rested flooded battery as a share; null where it cannot be told. */
function chargeOf(rest: Taken | null, { tables, figure }: Workshop): number | null {
  const warmth = rest && numberOf(rest, "battery_temp_c");
  if (!rest || warmth === null || wordOf(rest, "battery_type") === "agm") return null;
  if (warmth < figure("battery", "COLDEST_C") || warmth > figure("battery", "HOTTEST_C")) return null;
  return straight(tables.charge, rest.own + tables.charge_v_per_k * (warmth - tables.charge_at_c)) / 100;
}

export function chargeLeft(held: Gathered, shop: Workshop): readonly Follows[] {
  const rest = held.last("batt_rest");
  const share = chargeOf(rest, shop);
  return rest && share !== null ? [{ quantity: "batt_soc", value: share * 100, unit: "percent", inputs: [rest] }] : [];
}

/** Hours until a measured draw leaves half a charge; a full battery where its voltage is not known. */
export function standingHours(held: Gathered, shop: Workshop): readonly Follows[] {
  const [draw, rest] = [held.last("key_off_draw"), held.last("batt_rest")];
  const capacity = draw && numberOf(draw, "battery_ah");
  const amps = draw ? draw.own / 1000 : 0;
  if (!draw || !capacity || capacity < 1 || amps < shop.figure("worked", "LEAST_DRAW_A")) return [];
  const share = chargeOf(rest, shop);
  const value = Math.max(0, (capacity * ((share ?? 1) - shop.figure("worked", "NO_START"))) / amps);
  const assumed = draw.known.assumed.has("battery_ah") ? " (assumed)" : "";
  const full = share === null ? ", full (assumed)" : `, ${Math.round(100 * share)} % charged`;
  const how = `, ${shown(capacity, "Ah")}${assumed}${full}, down to half`;
  return [{ quantity: "flat_hours", value, unit: "hour", inputs: share === null || !rest ? [draw] : [draw, rest], conditions: { battery_ah: capacity }, how }];
}
