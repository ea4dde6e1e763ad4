import { describe, expect, test } from "vitest";
import { afterwards } from "../src/model/afterwards";
import { pastOf } from "../src/model/car-past";
import { EMPTY_TRADE, parseCase, parseTradeCause, read } from "../src/wire";
import type { Case } from "../src/wire";

const NOW = new Date("2026-03-31T09:00:00Z");
const VIN = "1G4AH59H45G118341";
const before = (days: number): string => new Date(NOW.getTime() - days * 86_400_000).toISOString();
const closed = (id: string, days: number, change: object = {}): Case =>
  read(parseCase, { id, state: "closed", revision: 1, complaint: "no crank", closed: before(days), updated: before(days), verified: true, confirmed_by: "t", ...change });

describe("what is still to do after fitting", () => {
  const cause = (id: string, component: string, fix: string) => read(parseTradeCause, { id, title: id, system: "air_intake", component, fix, confirm_test: null });
  const trade = { ...EMPTY_TRADE, causes: [cause("stuck", "throttle", "Replace throttle body, learn"), cause("dirty", "throttle", "Clean, relearn idle"), cause("module", "abs", "Repair or replace module, code, bleed"), cause("low", "battery", "Cure battery, clear code")] };
  const left = (causes: string[], components: string[] = []): readonly string[] => afterwards({ causes, components }, trade);

  test("of a throttle body is the idle's learning", () => expect(left([], ["throttle"])).toEqual(["relearn idle"]));
  test("of a cause is what its own repair says", () => expect(left(["module"])).toEqual(["code", "bleed"]));
  test("is nothing where a trouble code is only cleared", () => expect(left(["low"], ["battery"])).toEqual([]));
});

describe("this car's past", () => {
  const car = (id: string, days: number, vin: string | null, more: object = {}): Case => closed(id, days, { vehicle: { make: "Tarrow", model: "Linnet", vin }, ...more });
  test("is told by its VIN, newest first, without itself", () =>
    expect(pastOf(car("now", 0, VIN), [car("now", 0, VIN), car("old", 300, VIN), car("new", 30, VIN), car("like", 20, null)]).map(({ id }) => id)).toEqual(["new", "old"]));
  test("is told by a comeback where there is no VIN, all the way back", () =>
    expect(pastOf(car("c", 0, null, { comeback_of: "b" }), [car("b", 20, null, { comeback_of: "a" }), car("a", 60, null), car("x", 9, null)]).map(({ id }) => id)).toEqual(["b", "a"]));
  test("is empty for a like car, and a ring of comebacks ends", () => {
    expect(pastOf(car("now", 0, null), [car("like", 20, null)])).toEqual([]);
    expect(pastOf(car("a", 0, null, { comeback_of: "b" }), [car("b", 20, null, { comeback_of: "a" })]).map(({ id }) => id)).toEqual(["b"]);
  });
});
