import { describe, expect, test } from "vitest";
import { caseText } from "../src/views/case-words";
import { handoverOf, handoverText } from "../src/views/handover-words";
import type { HandoverOptions } from "../src/views/handover-words";
import { EMPTY_TRADE, parseCase, parseComponent, parseQuantity, parseTradeCause, parseTradeTest, read } from "../src/wire";
import type { Case, Trade } from "../src/wire";

const expectedVolts = { kind: "constant", low: 12.5, high: 12.9, uses: [], by: null, choose_by: null };
const TRADE: Trade = {
  ...EMPTY_TRADE,
  quantities: [read(parseQuantity, { id: "rest_volts", title: "Battery voltage at rest", unit: "volt", accepted_units: ["volt"], hard_low: 0, hard_high: 30, expected: expectedVolts, ladder: ["low", "ok", "high"], edges: ["low", "high"], good: ["ok"] })],
  tests: [read(parseTradeTest, { id: "drop", title: "Voltage drop of the earth strap", system: "brakes", quantity: null, confirm: null, outcomes: [{ id: "high", means: "Too high" }] })],
  causes: [read(parseTradeCause, { id: "brakes.hose", title: "Brake hose swollen", system: "brakes", confirm_test: null })],
  components: [read(parseComponent, { id: "brakes.hose_part", title: "Brake hose", system: "brakes" })],
};
const OPTIONS: HandoverOptions = { trade: TRADE, shop: { name: "Bay Two", currency: "EUR", rate_per_hour: 80 }, names: false, cost: true };
const SECRET = "SECRET";

const reading = (id: string, value: number, when: "before" | "after") => ({ id, quantity: "rest_volts", value, unit: "volt", point: "battery posts", when, by: "Tess", at: null });
const given = {
  id: "c1", state: "closed", revision: 3, complaint: "pulls to the left when braking", title: "", vehicle: { year: 2011, make: "Tarrow", model: "Linnet", vin: "1G4AH59H45G118341", odometer: { value: 141000, unit: "km" } },
  closed: "2026-03-11T09:20:00Z", cause: "brakes.hose", cause_system: "brakes", correction: { action: "replace", component: null, text: "both hoses renewed, bled" }, verified: true, note: `${SECRET} note`, by: "Mo",
  readings: [reading("r1", 12.1, "before"), reading("r2", 12.7, "after")],
  tests: [{ id: "t1", test: "drop", outcome: "high", note: `${SECRET} step`, by: "Tess", at: null }],
  parts: [
    { id: "p1", component: "brakes.hose_part", source: "maker", price: 60, result: "cured", note: `${SECRET} part`, by: "Tess", at: null },
    { id: "p2", component: "brakes.hose_part", source: "used", price: 20, result: "no change", charged: false, by: "Tess", at: null },
  ],
  skipped: [{ id: "s1", test: "drop", because: "no tool", note: `${SECRET} skip`, by: null, at: null }],
  labour: { diagnosis_min: 30, repair_min: 60, not_billed_min: 0, rate_per_hour: 80 },
};
const file = (change: object = {}): Case => read(parseCase, { ...given, ...change });
const textOf = (change: object = {}, options: Partial<HandoverOptions> = {}): string => handoverText(handoverOf(file(change), { ...OPTIONS, ...options }));

describe("the page for the customer", () => {
  test("tells complaint, readings before and after, finding, work and cost", () => {
    const text = textOf();
    for (const wanted of ["pulls to the left", "12.1 V (should be 12.5 to 12.9 V) before, 12.7 V after the repair", "too high", "Brake hose swollen", "Both hoses renewed, bled", "Brake hose (maker)", "€180", "141,000 km"]) expect(text).toContain(wanted);
  });

  test("holds no note, no skipped test, no number of the car, and nothing that was not charged", () => {
    for (const hidden of [SECRET, "1G4AH59H45G118341", "no tool", "used"]) expect(textOf({}, { names: true })).not.toContain(hidden);
  });

  test("names nobody unless asked to", () => {
    expect(textOf()).not.toMatch(/Tess|Mo\b/);
    expect(textOf({}, { names: true })).toContain("Worked on by Tess, Mo");
  });

  test("leaves the cost out where that is wished", () => expect(textOf({}, { cost: false })).not.toContain("180"));

  test("keeps the caution of a safety system, also where the fault was not found", () => {
    expect(textOf()).toContain("do not drive on");
    const lost = { state: "unresolved", unresolved_reason: "no fault found", cause: null, cause_system: null, parts: [] };
    expect(textOf(lost)).toContain("do not drive on");
    expect(textOf(lost)).toContain("did not find a fault");
  });

  test("says when the cure was not measured", () => expect(textOf({ verified: false })).toContain("could not measure the cure"));

  test("stays short for a very long case", () => {
    const many = Array.from({ length: 60 }, (_, at) => ({ ...reading(`r${at}`, 12 + at / 100, "before"), point: `pin ${at}` }));
    const text = textOf({ complaint: "word ".repeat(800), readings: many, correction: { action: "", component: null, text: "long ".repeat(400) } });
    expect(text).toContain("and 54 more");
    expect(text.length).toBeLessThan(3500);
  });
});

describe("a case sent to a colleague", () => {
  test("tells the car, what was said, each step and how it ended", () => {
    const told = caseText(file({ title: "Pulls left", codes: ["C1234"] }), TRADE).split("\n");
    expect(told).toEqual([
      "Pulls left",
      "2011 Tarrow Linnet",
      "C1234",
      "“pulls to the left when braking”",
      "- Voltage drop of the earth strap: Too high",
      "- Battery voltage at rest 12.1 V (battery posts)",
      "- Battery voltage at rest 12.7 V (battery posts) (after the repair)",
      "- Fitted: Brake hose (Maker): Cured",
      "- Fitted: Brake hose (Used): No change",
      "Cause: Brake hose swollen",
      "Done: both hoses renewed, bled",
      "Proof: Measured again after the repair",
    ]);
  });

  test("holds no note, no name, no price and no number of the car", () => {
    const text = caseText(file(), TRADE);
    for (const kept of [SECRET, "Tess", "Mo", "60", "1G4AH59H45G118341"]) expect(text).not.toContain(kept);
  });
});
