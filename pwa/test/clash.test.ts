import { describe, expect, test } from "vitest";
import { clashesOf, seenBy, yielding } from "../src/model/clash";
import type { Change } from "../src/model/clash";
import { changedOnly } from "../src/model/merge";
import { parseCase, read } from "../src/wire";
import type { Case } from "../src/wire";

const car = { year: 2011, make: "Tarrow", model: "Linnet", odometer: { value: 141000, unit: "km" } };
const reading = { id: "r1", quantity: "rest_volts", value: 12.1, unit: "volt", by: null, at: null };
const file = (change: object = {}): Case => read(parseCase, { id: "a", state: "open", revision: 1, complaint: "no start", vehicle: car, readings: [reading], ...change });
const amend = (change: object): Change => ({ do: "amend", change, before: seenBy({ do: "amend", change, before: null }, file()) });
const right = (value: number): Change => {
  const act: Change = { do: "step change", of: "readings", step: "r1", change: { value } };
  return { ...act, before: seenBy(act, file()) };
};

describe("what a sheet really changes", () => {
  test("is what differs from what it showed", () =>
    expect(changedOnly({ complaint: "no start", vehicle: { ...car, year: 2012 }, codes: [] }, file())).toEqual({ vehicle: { year: 2012 } }));
  test("is a measure as a whole", () =>
    expect(changedOnly({ vehicle: { ...car, odometer: { value: 5, unit: "km" } } }, file())).toEqual({ vehicle: { odometer: { value: 5, unit: "km" } } }));
  test("is nothing where all was left as it was", () => expect(changedOnly({ vehicle: car, complaint: "no start" }, file())).toEqual({}));
});

describe("a field two people changed", () => {
  test("is told with what each of them wrote", () =>
    expect(clashesOf(amend({ complaint: "no start, hot" }), file({ complaint: "no crank" }))).toEqual([{ field: "complaint", mine: "no start, hot", theirs: "no crank" }]));
  test("of a measure is told once, as a whole", () =>
    expect(clashesOf(amend({ vehicle: { odometer: { value: 5, unit: "mi" } } }), file({ vehicle: { ...car, odometer: { value: 7, unit: "km" } } }))).toEqual([
      { field: "vehicle.odometer", mine: { value: 5, unit: "mi" }, theirs: { value: 7, unit: "km" } },
    ]));
  test("is noticed at a step too", () =>
    expect(clashesOf(right(12.3), file({ readings: [{ ...reading, value: 12.5 }] }))).toEqual([{ field: "value", mine: 12.3, theirs: 12.5 }]));
  test("is none where only one did, or both alike", () => {
    expect(clashesOf(right(12.3), file({ complaint: "other" }))).toEqual([]);
    expect(clashesOf(right(12.3), file({ readings: [{ ...reading, value: 12.3 }] }))).toEqual([]);
  });
  test("is not looked for in acts that do not say what was seen", () => {
    const old: Change = { do: "part result", step: "p1", change: { result: "cured" } };
    expect(clashesOf(old, file())).toEqual([]);
  });
});

describe("giving way", () => {
  const both = amend({ complaint: "mine", vehicle: { year: 2012, make: "Ondrey" } });
  test("leaves theirs and sends the rest", () =>
    expect(yielding(both, file({ complaint: "theirs", vehicle: { ...car, year: 2013 } }))?.change).toEqual({ vehicle: { make: "Ondrey" } }));
  test("leaves nothing to send where all clashed", () => expect(yielding(right(12.3), file({ readings: [{ ...reading, value: 12.5 }] }))).toBeNull());
});
