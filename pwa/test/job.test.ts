import { describe, expect, test } from "vitest";
import { closeProposal, minutesSpent, readingsToRepeat, stepsOf, sums, titleOf } from "../src/model/job";
import { EMPTY_TRADE, parseAdvice, parseTradeCause, parseTradeTest, read } from "../src/wire";
import type { Trade } from "../src/wire";
import { aCase } from "./bench";

const TRADE: Trade = {
  ...EMPTY_TRADE,
  tests: [read(parseTradeTest, { id: "drop_check", title: "Drop", system: "starting", do_min: 6 })],
  causes: [
    read(parseTradeCause, {
      id: "starting.cable.high_resistance",
      title: "Cable",
      component: "starting.cable",
      system: "starting",
      confirm_test: "drop_check",
      fix: "Clean and tighten the cable",
    }),
    read(parseTradeCause, {
      id: "starting.battery.weak",
      title: "Battery",
      component: "starting.battery",
      system: "starting",
      fix: "Replace the battery",
    }),
  ],
};
const step = (id: string, given: object) => ({ id, at: `2026-03-11T09:0${id.slice(1)}:00Z`, ...given });
const part = (id: string, given: object) => step(id, { component: "starting.battery", source: "maker", ...given });
const advice = (cause: string) =>
  read(parseAdvice, {
    cases: [],
    causes: [{ cause, title: "", probability: 0.6 }],
    unlisted: 0.4,
    tests: [],
    next: { do: "refer" },
    revision: 1,
  });

describe("the job so far", () => {
  const job = aCase({
    tests: [
      step("s2", { test: "drop_check", outcome: "high" }),
      step("s4", { test: "look", outcome: "ok", minutes: 3 }),
    ],
    readings: [step("s1", { quantity: "batt_rest", value: 12, unit: "volt" })],
    parts: [part("s3", {})],
  });

  test("lists every step in the order it was done", () =>
    expect(stepsOf(job).map(({ kind }) => kind)).toEqual(["reading", "test", "part", "test"]));
  test("counts the minutes written, else the list's own", () => expect(minutesSpent(job, TRADE)).toBe(9));
  test("an empty job has no steps and no minutes", () =>
    expect([stepsOf(aCase()), minutesSpent(aCase(), TRADE)]).toEqual([[], 0]));
});

describe("the sums", () => {
  test("charge what is charged and show what is lost", () => {
    const job = aCase({ parts: [part("s1", { price: 24.1, charged: false }), part("s2", { price: 118.35 })] });
    const labour = { diagnosis_min: 50, repair_min: 40, not_billed_min: 30 };
    expect(sums(job, labour, { rate: 80, other: 5 })).toEqual({
      parts: 118.35,
      lost_parts: 24.1,
      labour: 80,
      other: 5,
      total: 203.35,
    });
  });
  test("never bill less than nothing", () => expect(sums(aCase(), { not_billed_min: 60 }, { rate: 80 }).total).toBe(0));
});

describe("the close writes most of itself", () => {
  test("a named part beats the advice, and its confirming test is said", () => {
    const tests = [
      step("s1", { test: "drop_check", outcome: "high", part: "starting.cable.high_resistance", minutes: 7 }),
    ];
    expect(closeProposal(aCase({ tests }), advice("starting.battery.weak"), TRADE)).toEqual({
      cause: "starting.cable.high_resistance",
      correction: { action: "", component: "starting.cable", text: "Clean and tighten the cable" },
      confirmed_by: "drop_check",
      labour: { diagnosis_min: 7 },
    });
  });

  test("the part that cured names component and action", () => {
    const proposal = closeProposal(
      aCase({ parts: [part("s1", { result: "cured" })] }),
      advice("starting.battery.weak"),
      TRADE,
    );
    expect(proposal).toMatchObject({
      cause: "starting.battery.weak",
      correction: { action: "replace", component: "starting.battery" },
    });
  });

  test("a repair that cured names the cause, and no part is said to be new", () => {
    const repairs = [step("s1", { cause: "starting.cable.high_resistance", result: "cured", note: "lug cleaned" })];
    const job = aCase({ repairs, parts: [part("s2", { result: "no change" })] });
    expect(closeProposal(job, advice("starting.battery.weak"), TRADE)).toMatchObject({
      cause: "starting.cable.high_resistance",
      correction: { action: "repair", component: "starting.cable", text: "lug cleaned" },
    });
  });

  test("without advice or findings nothing is made up", () => expect(closeProposal(aCase(), null, TRADE)).toEqual({}));

  test("readings taken before and not again are asked for", () => {
    const before = { quantity: "batt_rest", value: 12, unit: "volt", point: "posts" };
    const readings = [
      step("s1", before),
      step("s2", { ...before, quantity: "crank_v" }),
      step("s3", { ...before, when: "after" }),
    ];
    expect(readingsToRepeat(aCase({ readings })).map(({ quantity }) => quantity)).toEqual(["crank_v"]);
  });
});

test("a case without a title is called by its first words", () => {
  expect(titleOf(aCase({ complaint: "x".repeat(80) }))).toHaveLength(60);
  expect(titleOf(aCase({ title: "Fan" }))).toBe("Fan");
});
