import { describe, expect, test } from "vitest";
import { priceWords, ruledOutWords } from "../src/views/before";
import { factorWords } from "../src/views/cause";
import { EMPTY_OWN, ownCauseBody, ownTestBody, systemOf } from "../src/views/own-sheets";
import { toolsOf } from "../src/views/shop-limits";
import { tunedWords } from "../src/views/shop-tuned";
import { testsFor } from "../src/views/test-sheet";
import { EMPTY_TRADE, parseTradeTest, read } from "../src/wire";
import * as office from "../src/wire-office";

describe("how far a piece of evidence moved a cause", () => {
  test.each([
    [3.24, "up 3.2 times"],
    [14, "up 14 times"],
    [0.08, "down to 1 in 13"],
    [1, "hardly moved"],
    [1.3, "a little up"],
    [0.62, "a little down"],
    [4000, "up over 100 times"],
    [0.00001, "down to 1 in over 100"],
  ])("a factor of %s: %s", (factor, words) => expect(factorWords(factor)).toBe(words));

  test("says up for every factor above one and down for every one below, however large", () => {
    for (let power = -40; power <= 40; power += 1) {
      const words = factorWords(1.5 ** power);
      const wanted = power > 0 ? /\bup\b/ : power < 0 ? /\bdown\b/ : /hardly/;
      expect(words, String(power)).toMatch(wanted);
    }
  });
});

describe("what was ruled out before", () => {
  const row = (causes: readonly string[], minutes: number | null = 3) => ({ test: "t", title: "Swap", means: "ok", times: 1, minutes, causes });
  test("is one line with the minutes of all", () =>
    expect(ruledOutWords([row(["Cable"], 6), row(["Relay"])])).toBe("cable, relay ruled out, 9 min"));
  test("leaves units and short forms as they are", () =>
    expect(ruledOutWords([row(["12 V battery", "A/C relay"], null)])).toBe("12 V battery, A/C relay ruled out"));
  test("names three at most and says how many more", () =>
    expect(ruledOutWords([row(["A", "B", "C", "D", "E"], null)])).toBe("A, B, C and 2 more ruled out"));
  test("falls back on the test's own name", () => expect(ruledOutWords([row([], null)])).toBe("swap ruled out"));
});

describe("the price to say aloud", () => {
  const span = { cases: 9, low: 90, middle: 139.6, high: 260, currency: "USD" };
  test("is whole money in one sentence", () =>
    expect(priceWords(span)).toBe("The last nine such jobs came to $90 to $260, the middle one $140."));
  test("of a single job is no span", () =>
    expect(priceWords({ ...span, cases: 1 })).toBe("The last such job came to $140."));
  test("of like jobs is said once", () => expect(priceWords({ ...span, low: 140.2, high: 140.4 })).toBe("The last nine such jobs came to $140 each."));
  test("of very many jobs counts in figures", () => expect(priceWords({ ...span, cases: 41 })).toContain("last 41 such"));
});

describe("a test of the shop's own", () => {
  const likely = [
    { cause: "a", title: "A", system: "cooling" },
    { cause: "b", title: "B", system: "aircon" },
  ];
  const form = { ...EMPTY_OWN, title: " Feel the joint ", points: ["b"], steps: "Pull the carpet\n\n Feel it " };

  test("belongs where the cause it finds belongs, unless the member says otherwise", () => {
    expect(systemOf({ form, trade: EMPTY_TRADE, likely, systems: ["cooling"] })).toBe("aircon");
    expect(systemOf({ form: { ...form, system: "hvac" }, trade: EMPTY_TRADE, likely, systems: [] })).toBe("hvac");
    expect(systemOf({ form: EMPTY_OWN, trade: EMPTY_TRADE, likely, systems: ["cooling"] })).toBe("cooling");
  });
  test("travels with its words trimmed and its empty lines left out", () =>
    expect(ownTestBody({ form, trade: EMPTY_TRADE, likely, systems: [], symptoms: ["s"] })).toEqual({
      title: "Feel the joint",
      system: "aircon",
      minutes: 5,
      points_at: ["b"],
      for_symptoms: ["s"],
      steps: ["Pull the carpet", "Feel it"],
    }));
  test("an own cause leaves out a cure that nobody wrote", () =>
    expect(ownCauseBody({ form: { ...form, symptoms: ["s"] }, trade: EMPTY_TRADE, likely, systems: [] })).toEqual({ title: "Feel the joint", system: "aircon", symptoms: ["s"] }));
});

describe("the lists as offered", () => {
  const made = (id: string, given: object) => read(parseTradeTest, { id, title: id, system: "cooling", ...given });
  const tests = [made("plain", { tools: ["meter"] }), made("gone", { retired: true }), made("seen", { tools: ["scope", "meter"] })];
  const trade = { ...EMPTY_TRADE, tests };

  test("leave out a test that was taken off", () =>
    expect(testsFor(trade, "", { systems: [], complaint: "" }).map(({ id }) => id)).toEqual(["plain", "seen"]));
  test("put the tests of the likeliest system first", () => {
    const mixed = { ...EMPTY_TRADE, tests: [made("a", { system: "body" }), made("b", { system: "aircon" }), made("c", {})] };
    const offered = testsFor(mixed, "", { systems: ["cooling", "aircon"], complaint: "" });
    expect(offered.map(({ id }) => id)).toEqual(["c", "b", "a"]);
  });
  test("name every tool once, the commonest first", () => expect(toolsOf(trade)).toEqual(["meter", "scope"]));
});

describe("the line on tuning", () => {
  const now = new Date("2026-03-11T09:20:00Z");
  const given = (more: object) => read(office.parseTuning, { version: 3, when: "2026-03-10T09:00:00Z", cases: 312, shipped_loss: 2, tuned_loss: 1.8, adopted: true, ...more });
  test("says on how many cases, when, and by how much it is better", () =>
    expect(tunedWords(given({}), now)).toBe("Tuned on 312 cases, yesterday; 10 % less wrong than shipped on cases held back."));
  test("says when the shipped weights stay", () => expect(tunedWords(given({ adopted: false }), now)).toContain("shipped weights stay"));
  test("says when there was no trial yet", () => expect(tunedWords(given({ when: null }), now)).toContain("Not tuned yet"));
});
