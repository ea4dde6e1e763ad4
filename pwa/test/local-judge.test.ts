import { describe, expect, test } from "vitest";
import { FormulaError, namesIn, worked } from "../src/model/arithmetic";
import { judge } from "../src/model/local-judge";
import { EMPTY_TRADE, list, parseQuantity, parseReading, parseTradeCondition, read } from "../src/wire";
import type { ReadingBody, Trade } from "../src/wire";
import engine from "./data/judged.json" with { type: "json" };
import { chance } from "./fake-service";

describe("formulas", () => {
  test.each([
    ["2+3*4", 14],
    ["(2+3)*4", 20],
    ["-2**2", -4],
    ["2**3**2", 512],
    ["2**-1", 0.5],
    ["10-4-3", 3],
    ["24/4/2", 3],
    ["max(0,-3)", 0],
    ["min(4, 2, 9)", 2],
    ["exp(0)", 1],
    ["1.5e3", 1500],
    ["--3", 3],
    [" .5 * 2 ", 1],
  ])("%s is %d", (formula, value) => expect(worked(formula)).toBeCloseTo(value, 12));

  test.each([
    ["ambient_c+5 if rest_hours>=6 else 108", { rest_hours: 7, ambient_c: 20 }, 25],
    ["ambient_c+5 if rest_hours>=6 else 108", { rest_hours: 1 }, 108],
    ["12.4+(0.1 if battery_type=='agm' else 0)", { battery_type: "agm" }, 12.5],
    ["1 if 2<3 else 1/0", {}, 1],
  ])("%s takes the branch that holds", (formula, names, value) =>
    expect(worked(formula, names)).toBeCloseTo(value, 12),
  );

  test("tell the names they use", () => expect(namesIn("max(60, a*b) if c>=1 else a")).toEqual(["a", "b", "c"]));

  test("take names from what is known", () => expect(worked("40*ambient_c+100", { ambient_c: 25 })).toBe(1100));

  test.each([
    "",
    "2+",
    "2 3",
    "(2",
    "max()",
    "nobody",
    "alert(1)",
    "constructor",
    "2;3",
    "a.b",
    "1/0",
    "toString(1)",
    "2**",
    "'a'+1",
    "1 if 2",
  ])("%j is refused", (formula) => expect(() => worked(formula)).toThrow(FormulaError));

  test("work out as the language itself does", () => {
    const random = chance(9);
    const grow = (depth: number): string => {
      if (depth === 0 || random() < 0.2) return (1 + Math.floor(random() * 90) / 10).toFixed(1);
      const sign = ["+", "-", "*", "/"][Math.floor(random() * 4)];
      return random() < 0.3
        ? `max(${grow(depth - 1)},${grow(depth - 1)})`
        : `(${grow(depth - 1)}${sign}${grow(depth - 1)})`;
    };
    for (let run = 0; run < 200; run += 1) {
      const formula = grow(4);
      const expected = Number(new Function("max", `return ${formula}`)(Math.max));
      if (Number.isFinite(expected)) expect(worked(formula), formula).toBeCloseTo(expected, 6);
    }
  });
});

const OK = { ladder: ["low", "ok", "high"], edges: ["low", "high"], good: ["ok"] };
const QUANTITIES = [
  {
    ...OK,
    id: "batt_rest",
    title: "Battery at rest",
    unit: "volt",
    accepted_units: ["millivolt"],
    conditions: ["battery_temp_c"],
    hard_low: 0,
    hard_high: 20,
    expected: { kind: "constant", low: 12.4, high: 12.9 },
    source: "common practice",
    ladder: ["flat", "low", "ok", "surface_charge"],
    edges: ["12-0.004*(battery_temp_c-25)", "low", "high"],
    good: ["ok", "surface_charge"],
  },
  {
    ...OK,
    id: "ac_high",
    title: "High side",
    unit: "kilopascal",
    accepted_units: ["psi"],
    conditions: ["ambient_c"],
    hard_low: 0,
    hard_high: 3500,
    expected: { kind: "formula", low: "40*ambient_c+100", high: "55*ambient_c+300", uses: ["ambient_c"] },
  },
  {
    ...OK,
    id: "ac_static",
    title: "Static",
    unit: "kilopascal",
    accepted_units: ["psi"],
    conditions: ["refrigerant", "ambient_c", "altitude_m"],
    hard_low: -100,
    hard_high: 3500,
    expected: {
      kind: "table",
      choose_by: "refrigerant",
      by: "ambient_c",
      tolerance: 60,
      points: {
        R134a: [
          [10, 314],
          [20, 470],
          [30, 669],
        ],
      },
    },
  },
  {
    ...OK,
    id: "torque",
    title: "Torque",
    unit: "newton*meter",
    hard_low: 0,
    hard_high: 1500,
    expected: { kind: "maker", low: 90, high: 140 },
  },
  {
    id: "drop",
    title: "Drop",
    unit: "volt",
    accepted_units: ["millivolt"],
    hard_low: 0,
    hard_high: 16,
    expected: { kind: "constant", low: null, high: 0.2 },
    ladder: ["ok", "high"],
    edges: ["high"],
    good: ["ok"],
  },
];
const TRADE: Trade = {
  ...EMPTY_TRADE,
  quantities: QUANTITIES.map((one) => read(parseQuantity, one)),
  conditions: [
    read(parseTradeCondition, {
      id: "ambient_c",
      title: "air temperature in the bay",
      unit: "degC",
      also: ["temperature"],
    }),
    read(parseTradeCondition, {
      id: "battery_temp_c",
      title: "battery temperature",
      unit: "degC",
      also: ["temperature"],
      default: 25,
    }),
    read(parseTradeCondition, { id: "altitude_m", title: "height", unit: "meter", default: 0 }),
    read(parseTradeCondition, { id: "refrigerant", title: "refrigerant" }),
  ],
};
const judged = (quantity: string, value: number, unit: string, conditions?: ReadingBody["conditions"]) =>
  judge({ quantity, value, unit, ...(conditions && { conditions }) }, TRADE);

describe("judging a reading on the phone", () => {
  test("climbs the quantity's own ladder, good ends included", () => {
    const words = [11.9, 12.1, 12.6, 13].map((value) => judged("batt_rest", value, "volt"));
    expect(words.map(({ verdict, good }) => [verdict, good])).toEqual([
      ["flat", false],
      ["low", false],
      ["ok", true],
      ["surface_charge", true],
    ]);
    expect(words[1]).toMatchObject({ source: "common practice", expected: { low: 12.4, high: 12.9, unit: "volt" } });
    expect(words[1]?.why).toBe("Expected 12.4 to 12.9 V at battery temp 25 °C (assumed).");
  });

  test("takes the good side on an edge", () =>
    expect([judged("batt_rest", 12.4, "volt").verdict, judged("drop", 0.2, "volt").verdict]).toEqual(["ok", "ok"]));

  test("counts a value in another unit and shows the range in it", () =>
    expect(judged("drop", 120, "millivolt")).toMatchObject({
      verdict: "ok",
      expected: { low: null, high: 200, unit: "millivolt" },
      why: "Expected at most 200 mV.",
    }));

  test("questions what cannot be, and gives no range for it", () =>
    expect(judged("batt_rest", 126, "volt")).toMatchObject({ verdict: "implausible", good: null, expected: null }));

  test("names the condition a formula still needs", () => {
    const answer = judged("ac_high", 1400, "kilopascal");
    expect(answer).toMatchObject({ verdict: "unknown", needs: ["ambient_c"] });
    expect(answer.why).toContain("Please give: air temperature in the bay");
  });

  test("works a formula out, with the condition in another unit and under its plain name", () => {
    const answer = judged("ac_high", 1400, "kilopascal", { temperature: { value: 77, unit: "degF" } });
    expect(answer).toMatchObject({ verdict: "ok", expected: { low: 1100, high: 1675 } });
  });

  test("reads a table between its points, whatever the case of its name", () => {
    expect(judged("ac_static", 392, "kilopascal", { refrigerant: "r134A", ambient_c: 15 })).toMatchObject({
      verdict: "ok",
      expected: { low: 332, high: 452 },
    });
    expect(judged("ac_static", 700, "kilopascal", { refrigerant: "R134a", ambient_c: 30 }).verdict).toBe("ok");
  });

  test("does not guess outside a table or without its row", () => {
    expect(judged("ac_static", 400, "kilopascal", { refrigerant: "R134a", ambient_c: 45 }).verdict).toBe("unknown");
    expect(judged("ac_static", 400, "kilopascal", { refrigerant: "R12", ambient_c: 20 }).why).toContain(
      "there is no table for r12",
    );
    expect(judged("ac_static", 400, "kilopascal", { ambient_c: 20 }).needs).toEqual(["refrigerant"]);
  });

  test("leaves good open where only the maker's figure decides", () => {
    const answer = judged("torque", 80, "newton*meter");
    expect(answer).toMatchObject({ verdict: "low", good: null });
    expect(answer.why).toContain("the maker's figure decides");
  });

  test("a quantity not listed here is left to the service", () =>
    expect(judged("glow", 1, "volt").verdict).toBe("unknown"));
  test("a wrong unit is named with the right ones", () =>
    expect(judged("batt_rest", 1, "psi").why).toContain("is given in V, mV"));
});

test(`phone and engine agree: ${engine.source}`, () => {
  const trade = {
    ...EMPTY_TRADE,
    quantities: read(list(parseQuantity), engine.quantities),
    conditions: read(list(parseTradeCondition), engine.conditions),
  };
  for (const row of engine.rows) {
    const { verdict, good, needs, expected } = judge(read(parseReading, row.reading), trade);
    const said = `${row.reading.quantity} ${row.reading.value} ${JSON.stringify(row.reading.conditions)}`;
    expect([verdict, good, needs], said).toEqual([row.verdict, row.good, row.needs]);
    if (verdict !== "implausible") expect(expected, said).toEqual(row.expected);
  }
});
