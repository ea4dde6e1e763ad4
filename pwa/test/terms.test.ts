import { describe, expect, test } from "vitest";
import { editsWithin, likeness, termsOf } from "../src/model/terms";
import { chance } from "./fake-service";

describe("words for searching", () => {
  test("are folded, parted and rid of empty ones", () =>
    expect(termsOf("The Façade's FANS don't run, A/C hot/cold!")).toEqual([
      "facade",
      "fan",
      "don",
      "t",
      "run",
      "ac",
      "hot",
      "cold",
    ]));
  test("keep a code whole, however it was written", () => expect(termsOf("P0303 stored")).toEqual(["p0303", "stored"]));
  test("of nothing are none", () => expect(termsOf(" .,- ")).toEqual([]));
});

/** Textbook distance with neighbouring swaps, kept apart from the one under test. */
function distance(a: string, b: string): number {
  const grid = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  const at = (i: number, j: number): number => grid[i]?.[j] ?? Infinity;
  for (let i = 1; i <= a.length; i += 1) {
    for (let j = 1; j <= b.length; j += 1) {
      const swap = a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] && i > 1 && j > 1 ? at(i - 2, j - 2) + 1 : Infinity;
      (grid[i] as number[])[j] = Math.min(
        at(i - 1, j) + 1,
        at(i, j - 1) + 1,
        at(i - 1, j - 1) + (a[i - 1] === b[j - 1] ? 0 : 1),
        swap,
      );
    }
  }
  return at(a.length, b.length);
}

describe("likeness", () => {
  test("counts edits as a full table does", () => {
    const random = chance(5);
    const word = (): string =>
      Array.from({ length: 1 + Math.floor(random() * 8) }, () => "abc"[Math.floor(random() * 3)]).join("");
    for (let run = 0; run < 500; run += 1) {
      const [a, b, most] = [word(), word(), Math.floor(random() * 4)];
      expect(editsWithin(a, b, most), `${a} ${b} ${most}`).toBe(distance(a, b) <= most);
    }
  });

  test("a slip, a beginning and the word itself rank in that order", () => {
    const [slip, start, whole] = [
      likeness("washre", "washer"),
      likeness("wash", "washer"),
      likeness("washer", "washer"),
    ];
    expect(slip).toBeGreaterThan(0);
    expect(start).toBeGreaterThan(slip);
    expect(whole).toBe(1);
  });

  test("codes are alike only when they are the same", () => expect(likeness("p0303", "p0302")).toBe(0));
  test("short words must be the same", () => expect(likeness("hot", "not")).toBe(0));
});
