import { describe, expect, test } from "vitest";
import { localCases } from "../src/model/local-case";
import { readAsOf, searchCases } from "../src/model/local-search";
import { aCase } from "./bench";
import { chance } from "./fake-service";

const linnet = (year: number) => ({ year, make: "Tarrow", model: "Linnet", engine: "1.6 petrol" });
const SHOP = localCases(
  [
    aCase({
      id: "washer",
      complaint: "rear washer runs by itself with heated screen on",
      codes: ["B1342"],
      vehicle: linnet(2010),
      cause_title: "Ground point corroded",
    }),
    aCase({
      id: "fan",
      complaint: "radiator fan dead, overheats in traffic",
      symptoms: ["overheats_standing"],
      vehicle: linnet(2003),
    }),
    aCase({
      id: "crank",
      complaint: "cranks slow when hot",
      codes: ["B1342", "P0562"],
      vehicle: { year: 2011, make: "Ondrey", model: "Teal" },
    }),
    aCase({ id: "fan-other", complaint: "radiator fan dead", vehicle: { year: 2004, make: "Ondrey", model: "Teal" } }),
  ],
  [],
  null,
);
const best = (question: Parameters<typeof searchCases>[1]): (string | undefined)[] =>
  searchCases(SHOP, question).map((found) => found.case.id);

describe("words that are right as typed, without signal", () => {
  test("a slip is told, and no longer made once it is right as typed", () => {
    expect(readAsOf(SHOP, { text: "Heatd screen" })).toEqual([{ typed: "Heatd", read: "heated" }]);
    expect(readAsOf(SHOP, { text: "Heatd screen", asTyped: ["heatd"] })).toEqual([]);
    expect(searchCases(SHOP, { text: "heatd", asTyped: ["heatd"] })).toEqual([]);
  });

  test("a word of the shop's finds what it stands for", () => {
    const ownWords = [{ id: "hot pot", means: "radiator" }];
    expect(best({ text: "Hot-pot noisy", ownWords })).toContain("fan");
    expect(best({ text: "hot noisy pot", ownWords })).not.toContain("fan");
  });
});

describe("searching the phone's own cases", () => {
  test("finds by what a half-worked part or repair left wrong", () => {
    const part = { id: "p", component: "brakes.wheel_sensor", source: "aftermarket", result: "partly", note: "lamp out but chatters" };
    const repair = { id: "r", cause: "x", result: "partly", note: "squeaks yet" };
    const halves = localCases([aCase({ id: "half", parts: [part] }), aCase({ id: "repaired", repairs: [repair] })], [], null);
    const found = (text: string): string[] => searchCases(halves, { text }).map((each) => each.case.id);
    expect([found("chatters"), found("squeaks")]).toEqual([["half"], ["repaired"]]);
  });

  test("finds by words, with a thumb's slips and half words", () => {
    expect(best({ text: "waher rear screen" })[0]).toBe("washer");
    expect(best({ text: "overh" })).toEqual(["fan"]);
  });

  test("says which words were shared", () =>
    expect(searchCases(SHOP, { text: "heatd screen" })[0]?.why.words).toEqual(["heated", "screen"]));

  test("a rare code weighs more than a common one", () => {
    const [first] = searchCases(SHOP, { text: "", codes: ["P0562", "B1342"] });
    expect(first?.case.id).toBe("crank");
    expect(first?.why.codes).toEqual(["P0562", "B1342"]);
  });

  test("finds by symptom", () => expect(best({ text: "", symptoms: ["overheats_standing"] })).toEqual(["fan"]));

  test("the same model goes before another with the same words", () => {
    const [first] = searchCases(SHOP, {
      text: "radiator fan dead",
      vehicle: { year: 2004, make: "ondrey", model: "teal" },
    });
    expect(first?.case.id).toBe("fan-other");
    expect(first?.why.vehicle).toBe("same model, same year");
  });

  test("a vehicle without a complaint lists that vehicle's cases, the nearest year first", () =>
    expect(best({ text: "", vehicle: linnet(2011) })).toEqual(["washer", "fan"]));

  test("finds nothing for words nobody used", () => expect(best({ text: "zzzz qqqq" })).toEqual([]));
  test("finds nothing for a question that says nothing", () => expect(best({ text: "" })).toEqual([]));

  test("of three thousand cases returns the one meant", () => {
    const random = chance(3);
    const words = Array.from(
      { length: 400 },
      (_, n) => `word${String.fromCharCode(97 + (n % 26))}${String.fromCharCode(97 + Math.floor(n / 26))}`,
    );
    const some = (): string => Array.from({ length: 12 }, () => words[Math.floor(random() * words.length)]).join(" ");
    const many = localCases(
      [
        ...Array.from({ length: 3000 }, (_, n) => aCase({ id: `n${n}`, complaint: some() })),
        aCase({ id: "meant", complaint: "squeal from the tensioner when cold" }),
      ],
      [],
      null,
    );
    expect(searchCases(many, { text: "tensioner squeals cold" })[0]?.case.id).toBe("meant");
  });
});
