import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { here, unitHere } from "../src/model/units";
import { plausible } from "../src/model/reading";
import { readIn } from "../src/texts";
import { conditionsOf, keptFrom } from "../src/views/condition-words";
import { vehicleDetail } from "../src/views/words";
import { NO_VEHICLE, parseQuantity, parseTradeCondition, read } from "../src/wire";

const warmth = read(parseTradeCondition, { id: "ambient_c", title: "Air outside", unit: "degC", also: [], default: null });
const pressure = read(parseQuantity, { id: "rail", title: "Rail pressure", unit: "kilopascal", hard_low: 0, hard_high: 1000, accepted_units: ["psi"], edges: [], ladder: [], good: [], conditions: [], expected: { kind: "maker" }, source: "" });

describe("a shop that reads US units", () => {
  beforeEach(() => readIn("us"));
  afterEach(() => readIn("si"));

  test("asks its conditions in them and sends the listed ones", () => {
    expect(unitHere("degC")).toBe("degF");
    expect(conditionsOf([warmth], { ambient_c: "95" })).toEqual({ ambient_c: 35 });
  });
  test("finds again what it typed", () => {
    for (const typed of ["-4", "70", "71", "98.6"]) expect(keptFrom([{ conditions: conditionsOf([warmth], { ambient_c: typed }) }], [warmth])).toEqual({ ambient_c: typed });
  });
  test("reads a condition that came in another unit in its own", () =>
    expect(keptFrom([{ conditions: { ambient_c: { value: 20, unit: "degC" } } }], [warmth])).toEqual({ ambient_c: "68" }));
  test("shows a distance in miles, whatever it was written in", () => {
    expect(here({ value: 160_934, unit: "km" })).toEqual({ value: 99_999.8, unit: "mile" });
    expect(vehicleDetail({ ...NO_VEHICLE, odometer: { value: 160_934, unit: "km" } })).toBe("100,000 mi");
  });
  test("leaves what it reads alike", () => expect(here({ value: 12.5, unit: "volt" })).toEqual({ value: 12.5, unit: "volt" }));
  test("is told what can be in the unit it typed", () =>
    expect(plausible(pressure, { value: 900, unit: "psi" })).toHaveProperty("why", "900 psi cannot be for Rail pressure (0 to 145 psi)"));
});

test("a shop that reads metric units shows miles as kilometres", () =>
  expect(vehicleDetail({ ...NO_VEHICLE, odometer: { value: 100_000, unit: "mile" } })).toBe("160,934 km"));
