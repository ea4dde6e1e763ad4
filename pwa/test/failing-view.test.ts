import { describe, expect, test } from "vitest";

import { addressOf, monthsAsked, rowsAsked, USUAL, viewOf, type FailingView } from "../src/model/failing-view";

const FULL: FailingView = {
  at: "office",
  by: ["model", "year", "component"],
  since: "2025-01-01",
  until: "2026-02-01",
  least: 4,
  only: { model: "Vostrel Harrow, long & low" },
  row: { model: "Vostrel Harrow, long & low", year: "2019", component: "cooling_fan" },
  alerts: "muted",
  month: "2026-01",
  orders: { map: { column: "seen", down: true }, shelf: { column: "price", down: false } },
  open: ["map", "part.cooling_fan"],
};

describe("the address of what keeps failing", () => {
  test("gives the same view back", () => expect(viewOf(addressOf(FULL))).toEqual(FULL));

  test("is the same however one came to the view", () => {
    const other = { ...FULL, open: [...FULL.open].reverse(), orders: { shelf: FULL.orders.shelf!, map: FULL.orders.map! } };
    expect(addressOf(other)).toBe(addressOf(FULL));
  });

  test("is empty for the usual view", () => {
    expect(addressOf(USUAL)).toBe("");
    expect(viewOf("")).toEqual(USUAL);
  });

  test("passes over what it does not understand", () =>
    expect(viewOf("by=moon&since=yesterday&least=0&alerts=loud&month=May&sort.map=&x=1")).toEqual(USUAL));

  test("names the groupings in the order of a key, each once", () =>
    expect(viewOf("by=cause,model,cause").by).toEqual(["model", "cause"]));
});

describe("what is asked of the service", () => {
  test("is the part of the address that changes the rows", () =>
    expect(rowsAsked(FULL)).toBe("by=model,year,component&since=2025-01-01&until=2026-02-01&least=4&model=Vostrel+Harrow,+long+%26+low"));

  test("asks for a row's months in the same time", () => {
    expect(monthsAsked(USUAL)).toBe("");
    expect(Object.fromEntries(new URLSearchParams(monthsAsked(FULL)))).toEqual({ by: "model,year,component", since: "2025-01-01", until: "2026-02-01", ...FULL.row });
  });
});
