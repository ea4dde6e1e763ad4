import { describe, expect, test } from "vitest";
import { FormulaError, worked } from "../src/model/arithmetic";
import { judge } from "../src/model/local-judge";
import { EMPTY_TRADE, parseQuantity, parseTradeCondition, read } from "../src/wire";
import type { ReadingBody, Trade } from "../src/wire";
import { chance } from "./fake-service";

describe("formulas", () => {
  test.each([
    ["2+3*4", 14], ["(2+3)*4", 20], ["-2**2", -4], ["2**3**2", 512], ["2**-1", 0.5], ["10-4-3", 3], ["24/4/2", 3], ["max(0,-3)", 0],
    ["min(4, 2, 9)", 2], ["exp(0)", 1], ["1.5e3", 1500], ["--3", 3], [" .5 * 2 ", 1],
  ])("%s is %d", (formula, value) => expect(worked(formula)).toBeCloseTo(value, 12));

  test("take names from what is known", () => expect(worked("40*ambient_c+100", { ambient_c: 25 })).toBe(1100));

  test.each(["", "2+", "2 3", "(2", "max()", "nobody", "alert(1)", "constructor", "2;3", "a.b", "1/0", "toString(1)", "2**"])("%j is refused", (formula) =>
    expect(() => worked(formula)).toThrow(FormulaError));

  test("work out as the language itself does", () => {
    const random = chance(9);
    const grow = (depth: number): string => {
      if (depth === 0 || random() < 0.2) return (1 + Math.floor(random() * 90) / 10).toFixed(1);
      const sign = ["+", "-", "*", "/"][Math.floor(random() * 4)];
      return random() < 0.3 ? `max(${grow(depth - 1)},${grow(depth - 1)})` : `(${grow(depth - 1)}${sign}${grow(depth - 1)})`;
    };
    for (let run = 0; run < 200; run += 1) {
      const formula = grow(4);
      const expected = Number(new Function("max", `return ${formula}`)(Math.max));
      if (Number.isFinite(expected)) expect(worked(formula), formula).toBeCloseTo(expected, 6);
    }
  });
});

const QUANTITIES = [
  { id: "batt_rest", title: "Battery at rest", unit: "volt", accepted_units: ["millivolt"], hard_low: 0, hard_high: 20, expected: { kind: "constant", low: 12.4, high: 12.9 }, source: "common practice" },
  { id: "ac_high", title: "High side", unit: "kilopascal", accepted_units: ["psi"], hard_low: 0, hard_high: 3500, expected: { kind: "formula", low: "40*ambient_c+100", high: "55*ambient_c+300", uses: ["ambient_c"] } },
  { id: "ac_static", title: "Static", unit: "kilopascal", accepted_units: ["psi"], hard_low: -100, hard_high: 3500, expected: { kind: "table", choose_by: "refrigerant", by: "ambient_c", tolerance: 60, points: { R134a: [[10, 314], [20, 470], [30, 669]] } } },
  { id: "torque", title: "Torque", unit: "newton*meter", hard_low: 0, hard_high: 1500, expected: { kind: "maker", low: 90, high: 140 } },
  { id: "drop", title: "Drop", unit: "volt", hard_low: 0, hard_high: 16, expected: { kind: "constant", low: null, high: 0.2 } },
];
const TRADE: Trade = {
  ...EMPTY_TRADE,
  quantities: QUANTITIES.map((one) => read(parseQuantity, one)),
  conditions: [read(parseTradeCondition, { id: "ambient_c", title: "air temperature in the bay", unit: "degC" })],
};
const judged = (quantity: string, value: number, unit: string, conditions?: ReadingBody["conditions"]) =>
  judge({ quantity, value, unit, ...(conditions && { conditions }) }, TRADE);

describe("judging a reading on the phone", () => {
  test("below, within and above the range", () => {
    expect([12.1, 12.4, 13].map((value) => judged("batt_rest", value, "volt").verdict)).toEqual(["low", "ok", "high"]);
    expect(judged("batt_rest", 12.1, "volt")).toMatchObject({ good: false, source: "common practice", expected: { low: 12.4, high: 12.9, unit: "volt" } });
  });

  test("counts a value in another unit", () => expect(judged("batt_rest", 12600, "millivolt").verdict).toBe("ok"));

  test("questions what cannot be, and gives no range for it", () =>
    expect(judged("batt_rest", 126, "volt")).toMatchObject({ verdict: "implausible", good: null, expected: null }));

  test("names the condition a formula still needs", () =>
    expect(judged("ac_high", 1400, "kilopascal")).toMatchObject({ verdict: "unknown", needs: ["ambient_c"], why: "needs air temperature in the bay" }));

  test("works a formula out, with the condition in another unit", () => {
    const answer = judged("ac_high", 1400, "kilopascal", { ambient_c: { value: 77, unit: "degF" } });
    expect(answer.verdict).toBe("ok");
    expect(answer.expected?.low).toBeCloseTo(1100, 9);
    expect(answer.expected?.high).toBeCloseTo(1675, 9);
  });

  test("reads a table between its points, whatever the case of its name", () => {
    const answer = judged("ac_static", 392, "kilopascal", { refrigerant: "r134A", ambient_c: 15 });
    expect(answer).toMatchObject({ verdict: "ok", expected: { low: 332, high: 452 } });
    expect(judged("ac_static", 700, "kilopascal", { refrigerant: "R134a", ambient_c: 30 }).verdict).toBe("ok");
  });

  test("does not guess outside a table or without its row", () => {
    expect(judged("ac_static", 400, "kilopascal", { refrigerant: "R134a", ambient_c: 45 }).verdict).toBe("unknown");
    expect(judged("ac_static", 400, "kilopascal", { refrigerant: "R12", ambient_c: 20 }).why).toContain("no table for R12");
    expect(judged("ac_static", 400, "kilopascal", { ambient_c: 20 }).needs).toEqual(["refrigerant"]);
  });

  test("says that only the maker's figure counts", () => expect(judged("torque", 80, "newton*meter").why).toContain("maker's figure counts"));
  test("an open side has no limit", () => expect(judged("drop", 0, "volt")).toMatchObject({ verdict: "ok", why: "expected at most 0.2 V" }));
  test("a quantity not listed here is left to the service", () => expect(judged("glow", 1, "volt").verdict).toBe("unknown"));
  test("a wrong unit is named with the right ones", () => expect(judged("batt_rest", 1, "psi").why).toContain("is given in V, mV"));
});
