/** Superheat and subcooling from a pressure and the temperature of the pipe beside it. */

import { airPressure } from "../model/expected";
import { numberOf, wordOf } from "./gathered";
import type { Follows, Gathered, Workshop } from "./gathered";
import { shown } from "./wording";

const ABSOLUTE_ZERO_C = -273.15;

/** "r134a" for the ways of writing it ("R-134a", "HFC134a"). */
function gasNamed(text: string, { tables }: Workshop): string | null {
  const bare = text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "").replace(/^(hfc|hfo)/, "");
  return Object.keys(tables.saturation_kpa).find((name) => bare === name || bare === name.slice(1)) ?? null;
}

/** Saturation temperature at an absolute pressure: straight lines of ln P over 1/T; null beyond the table. */
function saturationC(gas: string, kpa: number, { tables }: Workshop): number | null {
  const points = tables.saturation_kpa[gas] ?? [];
  const after = Math.max(points.findIndex((each) => each >= kpa), 0);
  if (kpa < points[0]! || kpa > points.at(-1)!) return null;
  const cold = (step: number): number => -1 / (tables.coldest_c + tables.step_k * step - ABSOLUTE_ZERO_C);
  if (after === 0) return tables.coldest_c;
  const [low, high] = [Math.log(points[after - 1]!), Math.log(points[after]!)];
  const share = (Math.log(kpa) - low) / (high - low);
  return -1 / (cold(after - 1) + share * (cold(after) - cold(after - 1))) + ABSOLUTE_ZERO_C;
}

interface Pair {
  readonly result: string;
  readonly pressure: string;
  readonly pipe: string;
  readonly kelvin: (saturation: number, pipe: number) => number;
}

function heat(held: Gathered, shop: Workshop, { result, pressure, pipe, kelvin }: Pair): readonly Follows[] {
  const [pressed, piped] = [held.last(pressure), held.last(pipe)];
  if (!pressed || !piped) return [];
  const height = numberOf(pressed, "altitude_m") ?? 0;
  const [gas, air] = [gasNamed(wordOf(pressed, "refrigerant"), shop), airPressure(height)];
  const saturation = gas === null || air === null ? null : saturationC(gas, pressed.own + air, shop);
  if (saturation === null) return [];
  const said = String(pressed.reading.conditions?.["refrigerant"] ?? gas);
  const how = `, ${said}${height ? ` at ${shown(height, "m")}` : ""}`;
  return [{ quantity: result, value: kelvin(saturation, piped.own), unit: "delta_degC", inputs: [pressed, piped], conditions: { refrigerant: wordOf(pressed, "refrigerant") }, how }];
}

/** From the running high side pressure and the liquid pipe; nothing without the refrigerant. */
export const subcooling = (held: Gathered, shop: Workshop): readonly Follows[] =>
  heat(held, shop, { result: "ac_subcool", pressure: "ac_high_run", pipe: "ac_liquid_temp", kelvin: (saturation, pipe) => saturation - pipe });

/** From the running low side pressure and the suction pipe; nothing without the refrigerant. */
export const superheat = (held: Gathered, shop: Workshop): readonly Follows[] =>
  heat(held, shop, { result: "ac_superheat", pressure: "ac_low_run", pipe: "ac_suction_temp", kelvin: (saturation, pipe) => pipe - saturation });
