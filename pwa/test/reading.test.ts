import { describe, expect, test } from "vitest";
import { padValue, plausible, pressed, toReading, unitsOf, usualUnit } from "../src/model/reading";
import type { PadKey } from "../src/model/reading";
import { convert, unitName, unitShort } from "../src/model/units";
import { parseQuantity, read } from "../src/wire";
import pint from "./data/units.json" with { type: "json" };
import { chance } from "./fake-service";

const quantity = (given: object = {}) =>
  read(parseQuantity, {
    id: "batt_rest",
    title: "Battery at rest",
    unit: "volt",
    accepted_units: ["volt", "millivolt"],
    test_point: "battery posts",
    hard_low: 0,
    hard_high: 20,
    expected: { kind: "constant", low: 12.4, high: 12.9 },
    ...given,
  });

const typed = (keys: string): string =>
  [...keys].reduce((text, key) => pressed(text, (key === "<" ? "back" : key) as PadKey), "");

describe("the number pad", () => {
  test.each([
    ["12.1", "12.1"],
    ["12..1", "12.1"],
    [".5", "0.5"],
    ["007", "7"],
    ["12<3", "13"],
    ["5-", "-5"],
    ["5--", "5"],
    ["<", ""],
    ["-.5", "-0.5"],
    ["1234567890123", "123456789"],
  ])("%s gives %s", (keys, text) => expect(typed(keys)).toBe(text));

  test("any keys at all give a number or none, never nonsense", () => {
    const random = chance(11);
    const keys: PadKey[] = ["0", "1", "9", ".", "-", "back", "clear"];
    for (let run = 0; run < 300; run += 1) {
      let text = "";
      for (let at = 0; at < 12; at += 1) text = pressed(text, keys[Math.floor(random() * keys.length)] ?? "0");
      const value = padValue(text);
      expect(value === null ? /^-?$/.test(text) : Number.isFinite(value)).toBe(true);
    }
  });

  test("a decimal comma counts as a point", () => expect(padValue("12,6")).toBe(12.6));
  test.each(["", "-", "12.3.4", "twelve", "1e9"])("%j is no number", (text) => expect(padValue(text)).toBeNull());
});

describe("units", () => {
  test(`turn into one another as in ${pint.source}`, () => {
    for (const [value, from, to, expected] of pint.conversions as [number, string, string, number][]) {
      expect(convert(value, from, to), `${from} to ${to}`).toBeCloseTo(expected, 6);
    }
  });

  test.each(pint.units)("%s of the trade lists is known", (unit) => expect(unitName(unit)).toBe(unit));

  test("there and back gives the same value", () => {
    for (const [value, from, to] of pint.conversions as [number, string, string, number][]) {
      expect(convert(convert(value, from, to) ?? NaN, to, from)).toBeCloseTo(value, 9);
    }
  });

  test("volts are not kilopascals", () => {
    expect(convert(1, "volt", "kilopascal")).toBeNull();
  });

  test("a degree apart is not a degree", () => expect(convert(10, "delta_degC", "degF")).toBeNull());
  test.each([
    ["mV", "millivolt"],
    ["MΩ", "megaohm"],
    ["mΩ", "milliohm"],
    ["volts", "volt"],
    ["KPA", "kilopascal"],
    ["km", "kilometer"],
  ])("%s is read as %s", (said, name) => expect(unitName(said)).toBe(name));
  test("an unknown unit is shown as it came", () => expect(unitShort("furlong")).toBe("furlong"));
});

describe("a typed reading", () => {
  test("beyond the hard limits is questioned, with the unit that could be meant", () => {
    const answer = plausible(quantity(), { value: 12600, unit: "volt" });
    expect(answer).toMatchObject({ kind: "question", instead: { value: 12600, unit: "millivolt" } });
    expect(answer).toHaveProperty("why", "12,600 V cannot be for Battery at rest (0 to 20 V)");
  });

  test("in another accepted unit is judged by its size", () =>
    expect(plausible(quantity(), { value: 12600, unit: "millivolt" }).kind).toBe("plausible"));

  test("in a unit of another kind is named wrong, with the right ones", () =>
    expect(plausible(quantity(), { value: 1, unit: "psi" })).toMatchObject({
      kind: "wrong unit",
      why: expect.stringContaining("V, mV"),
    }));

  test("takes the usual test point when none is said, and is none without a number", () => {
    expect(toReading(quantity(), { typed: "12.1", unit: "volt" })).toMatchObject({
      value: 12.1,
      point: "battery posts",
      when: "before",
    });
    expect(toReading(quantity(), { typed: "-", unit: "volt" })).toBeNull();
  });

  test("is offered in the shop's habit", () => {
    const pressure = quantity({ unit: "kilopascal", accepted_units: ["kilopascal", "psi", "bar"] });
    expect([usualUnit(pressure, "si"), usualUnit(pressure, "us")]).toEqual(["kilopascal", "psi"]);
    expect(unitsOf(pressure)).toEqual(["kilopascal", "psi", "bar"]);
  });
});
