import { describe, expect, test } from "vitest";
import { amended, canAsk, isBlank, newDraft, toCaseBody, toComplaint, toQuestion, toggled } from "../src/model/draft";
import { newId } from "../src/model/ids";
import { NOW } from "./bench";

const blank = newDraft("d1", NOW);
const some = amended(
  blank,
  { complaint: " no start ", codes: ["B1342"], readings: [{ quantity: "batt_rest", value: 12, unit: "volt" }] },
  NOW,
);

describe("a question being typed", () => {
  test("starts blank and cannot be asked", () => expect([isBlank(blank), canAsk(blank)]).toEqual([true, false]));
  test("with only a car is not blank, and cannot be asked yet", () => {
    const car = amended(blank, { vehicle: { ...blank.vehicle, model: "Linnet" } }, NOW);
    expect([isBlank(car), canAsk(car)]).toEqual([false, false]);
  });
  test("sends only what was said", () =>
    expect(toComplaint(some)).toEqual({
      complaint: "no start",
      codes: ["B1342"],
      readings: [{ quantity: "batt_rest", value: 12, unit: "volt" }],
    }));
  test("of codes alone says so in words", () =>
    expect(toComplaint(amended(blank, { codes: ["B1342"] }, NOW)).complaint).toBe("Codes B1342"));
  test("carries the limit and the minutes when given", () =>
    expect(toQuestion(some, { limit: 3, minutesSpent: 12 })).toMatchObject({ limit: 3, minutes_spent: 12 }));
  test("as a case gives every step an id of its own, and keeps one it has", () => {
    const readings = [
      { quantity: "a", value: 1, unit: "volt" },
      { id: "mine", quantity: "b", value: 2, unit: "volt" },
    ];
    const body = toCaseBody(amended(some, { readings }, NOW), newId, NOW);
    expect(body.readings?.[1]?.id).toBe("mine");
    expect(new Set([body.id, ...(body.readings ?? []).map(({ id }) => id)]).size).toBe(3);
  });
  test("survives being stored as it is", () => expect(structuredClone(some)).toEqual(some));
  test("a chip tapped twice is as before", () => expect(toggled(toggled(["a"], "b"), "b")).toEqual(["a"]));
});

test("ids are version 4 UUIDs, with and without the browser's own maker", () => {
  const own = crypto.randomUUID;
  const form = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
  expect(newId()).toMatch(form);
  try {
    Object.defineProperty(crypto, "randomUUID", { value: undefined, configurable: true });
    const ids = Array.from({ length: 200 }, newId);
    ids.forEach((id) => expect(id).toMatch(form));
    expect(new Set(ids).size).toBe(200);
  } finally {
    Object.defineProperty(crypto, "randomUUID", { value: own, configurable: true });
  }
});
