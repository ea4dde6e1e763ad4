import { describe, expect, test } from "vitest";
import { clashes, mergePatch, same, underPatch } from "../src/model/merge";
import { chance } from "./fake-service";

describe("a merge patch", () => {
  const car = { make: "Tarrow", odometer: { value: 5, unit: "km" } };

  test("changes what it names and nothing else, deep down too", () =>
    expect(mergePatch({ note: "a", vehicle: car }, { vehicle: { make: "Ondrey" } })).toEqual({
      note: "a",
      vehicle: { ...car, make: "Ondrey" },
    }));
  test("null takes a value away", () =>
    expect(mergePatch({ vehicle: car }, { vehicle: { odometer: null } })).toEqual({
      vehicle: { make: "Tarrow", odometer: null },
    }));
  test("a list is replaced whole", () =>
    expect(mergePatch({ codes: ["a", "b"] }, { codes: ["c"] })).toEqual({ codes: ["c"] }));
  test("the part it speaks of is cut out in its shape", () =>
    expect(underPatch({ note: "a", vehicle: car }, { vehicle: { make: "x" }, title: "t" })).toEqual({
      vehicle: { make: "Tarrow" },
      title: null,
    }));
});

describe("a clash", () => {
  const patch = { note: "mine", vehicle: { year: 2011 } };
  const before = { note: "old", vehicle: { year: 2010 } };

  test("is a field both changed", () => {
    expect(clashes(patch, before, { note: "theirs", vehicle: { year: 2010 } })).toEqual(["note"]);
    expect(clashes(patch, before, { note: "old", vehicle: { year: 2009 } })).toEqual(["vehicle.year"]);
  });
  test("is not a field only the other changed", () =>
    expect(clashes(patch, before, { ...before, title: "theirs" })).toEqual([]));
  test("is not a field that already is as wanted", () => expect(clashes(patch, before, patch)).toEqual([]));
  test("counts not there and null as the same", () => expect(clashes({ cause: "c" }, {}, { cause: null })).toEqual([]));

  test("never arises when nobody else wrote", () => {
    const random = chance(4);
    for (let run = 0; run < 200; run += 1) {
      const known = { note: random(), vehicle: { year: random(), make: random() }, codes: [random()] };
      const wanted = random() < 0.5 ? { vehicle: { year: random() } } : { note: random(), codes: [random()] };
      expect(clashes(wanted, underPatch(known, wanted), known)).toEqual([]);
    }
  });
});

test("order of fields makes no difference, order of a list does", () => {
  expect(same({ a: 1, b: [1, 2] }, { b: [1, 2], a: 1 })).toBe(true);
  expect(same([1, 2], [2, 1])).toBe(false);
});
