import { describe, expect, test } from "vitest";
import { asTyped, decimalMark, numberTyped } from "../src/model/typed-number";
import { chance } from "./fake-service";

describe("a typed number", () => {
  test.each([
    ["12.5", 12.5], ["12,5", 12.5], ["1,250", 1250], ["1,250.75", 1250.75], ["1.250,75", 1250.75], ["1.250", 1.25],
    ["141 000", 141000], ["1,234,567", 1234567], ["0,125", 0.125], ["-3", -3], ["48.50", 48.5], [" 95 ", 95],
  ])("%s is %d where a point parts decimals", (typed, value) => expect(numberTyped(typed, ".")).toBe(value));

  test.each([
    ["12,5", 12.5], ["12.5", 12.5], ["1.250", 1250], ["1.250,75", 1250.75], ["1,250.75", 1250.75], ["1,250", 1.25],
    ["0.125", 0.125], ["141\u00a0000", 141000], ["48,50", 48.5],
  ])("%s is %d where a comma does", (typed, value) => expect(numberTyped(typed, ",")).toBe(value));

  test.each(["", "  ", "abc", "12 V", "1..2.x", "-", ","])("%j is none", (typed) => expect(numberTyped(typed)).toBeNull());

  test("is read again as it was shown, in both ways of writing", () => {
    const random = chance(4);
    for (let run = 0; run < 300; run += 1) {
      const value = Math.round((random() - 0.3) * 10 ** Math.floor(random() * 7)) / 100 + 0;
      for (const mark of [".", ","] as const) expect(numberTyped(asTyped(value, mark), mark)).toBe(value);
    }
  });

  test("follows the language", () => expect(["en-US", "es-ES", "es-MX"].map((each) => decimalMark(each))).toEqual([".", ",", "."]));
});
