import { describe, expect, test } from "vitest";
import * as wire from "../src/wire";

const CASE = { id: "a", state: "open", revision: 3, complaint: "no start" };

describe("reading what travels", () => {
  test("a bare case gets its empty lists and nulls", () => {
    const read = wire.read(wire.parseCase, CASE);
    expect(read).toMatchObject({ tests: [], readings: [], cause: null, vehicle: { make: "", odometer: null } });
  });

  test("a wrong value is named by its place", () => {
    const bad = { ...CASE, readings: [{ id: "r", quantity: "batt_rest", value: "12.1", unit: "volt" }] };
    expect(() => wire.read(wire.parseCase, bad)).toThrow('readings[0].value: expected a number, got "12.1"');
  });

  test("an unknown word of a closed list is refused with the words that may stand there", () => {
    expect(() => wire.read(wire.parseCase, { ...CASE, state: "lost" })).toThrow(
      "state: expected one of open, closed, unresolved",
    );
  });

  test("a number that is none is refused", () => {
    expect(() => wire.read(wire.parseMeasure, { value: Number.NaN, unit: "V" })).toThrow(wire.WireError);
  });

  test("fields of a newer service are passed over", () => {
    expect(wire.read(wire.parseMeasure, { value: 1, unit: "V", newer: true })).toEqual({ value: 1, unit: "V" });
  });

  test("conditions may be words, numbers, yes or no, and measures", () => {
    const conditions = { key_state: "on", rest_hours: 3, key_away: true, ambient_c: { value: 20, unit: "degC" } };
    const reading = wire.read(wire.parseReading, { quantity: "batt_rest", value: 12, unit: "volt", conditions });
    expect(reading.conditions).toEqual(conditions);
  });

  test("a change of a kind not known here is passed over with its number", () => {
    const body = { changes: [{ seq: 4, kind: "weather", id: "x", op: "put", case: { odd: 1 } }], next: 4, latest: 4 };
    expect(wire.read(wire.parseChanges, body).changes[0]).toMatchObject({ seq: 4, case: null });
  });

  test("a problem keeps field and remedy, and one without them is still a problem", () => {
    const problem = wire.read(wire.parseProblem, { status: 422, title: "Wrong unit", field: "unit", remedy: "use V" });
    expect(problem).toMatchObject({ field: "unit", remedy: "use V", errors: [] });
    expect(wire.read(wire.parseProblem, { status: 500 }).title).toBe("Refused");
  });

  test("an answer of an older service has no whys, doubts, price or questions", () => {
    const bare = { cases: [], causes: [], unlisted: 1, tests: [], next: { do: "refer" }, revision: 1 };
    const none = { dropped: [], conflicts: [], ruled_out: [], price: null, questions: [] };
    expect(wire.read(wire.parseAdvice, bare)).toMatchObject(none);
  });

  test("a cause says what moved it, a test what each outcome leaves", () => {
    const cause = { cause: "x", title: "Pump", probability: 0.6 };
    const outcomes = [{ outcome: "dead", probability: 0.4, then: [cause] }];
    const body = {
      cases: [],
      causes: [{ ...cause, moved: [{ by: "Code P0480", factor: 3.2 }], from_cases: ["c1"] }],
      unlisted: 0.4,
      tests: [{ test: "t", title: "T", minutes: 5, saves: 2, note: "needs the refrigerant certificate", outcomes }],
      next: { do: "refer" },
      revision: 1,
    };
    expect(wire.read(wire.parseAdvice, body)).toMatchObject({
      causes: [{ moved: [{ factor: 3.2 }], from_cases: ["c1"] }],
      tests: [{ note: "needs the refrigerant certificate", outcomes: [{ then: [cause] }] }],
    });
  });

  test("a conflict of a kind not known here is shown all the same", () => {
    const advice = { cases: [], causes: [], unlisted: 1, tests: [], next: { do: "refer" }, revision: 1 };
    const conflicts = [{ kind: "weather", text: "rain and no rain", remedy: "look again" }];
    expect(wire.read(wire.parseAdvice, { ...advice, conflicts }).conflicts[0]?.text).toBe("rain and no rain");
  });

  test("an expected cost may be a plain number or an amount", () => {
    const advice = (expected_cost: unknown) => ({
      cases: [],
      causes: [],
      unlisted: 1,
      tests: [],
      revision: 1,
      next: { do: "refer", expected_cost },
    });
    expect(wire.read(wire.parseAdvice, advice(80)).next.expected_cost).toBe(80);
    expect(wire.read(wire.parseAdvice, advice({ amount: 90, currency: "EUR" })).next.expected_cost).toBe(90);
  });
});
