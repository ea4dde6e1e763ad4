import { describe, expect, test } from "vitest";
import { csv, narrowed, sorted } from "../src/model/rows";
import type { Cell } from "../src/model/rows";
import { chance } from "./fake-service";

const order = (cells: readonly Cell[], descending = false): readonly Cell[] => sorted(cells, (cell) => cell, { descending, locale: "en" });

describe("sorting", () => {
  test("puts figures by size and words as a person would", () => {
    expect(order([10, 9, 100])).toEqual([9, 10, 100]);
    expect(order(["pin 10", "Pin 9", "émigré", "zebra"])).toEqual(["émigré", "Pin 9", "pin 10", "zebra"]);
  });
  test("leaves what is missing last, either way", () => {
    expect(order([null, 2, 1])).toEqual([1, 2, null]);
    expect(order(["", "b", "a"], true)).toEqual(["b", "a", ""]);
  });
  test("keeps rows alike in their order, and is turned round by descending", () => {
    const random = chance(7);
    const rows = Array.from({ length: 60 }, (_, at) => ({ at, value: Math.floor(random() * 5) }));
    for (const descending of [false, true]) {
      const made = sorted(rows, (row) => row.value, { descending });
      made.slice(1).forEach((row, at) => {
        const before = made[at];
        const way = (row.value - (before?.value ?? 0)) * (descending ? -1 : 1);
        expect(way > 0 || (way === 0 && row.at > (before?.at ?? 0))).toBe(true);
      });
    }
  });
});

describe("narrowing", () => {
  test("keeps rows with every word, whatever the accents", () =>
    expect(narrowed(["Résistance du relais", "relay", "Relais résistant"], "RELAIS resist", (row) => row)).toEqual(["Résistance du relais", "Relais résistant"]));
  test("without words keeps all", () => expect(narrowed([1, 2], "  ", String)).toEqual([1, 2]));
});

test("a file for a spreadsheet quotes what would run or break a line", () =>
  expect(csv(["a", "b"], [["=SUM(1)", 'say "x", y'], [null, 1.5]])).toBe("a,b\r\n'=SUM(1),\"say \"\"x\"\", y\"\r\n,1.5\r\n"));
