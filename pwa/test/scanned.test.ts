import { describe, expect, test } from "vitest";
import { agreeing, vinIn } from "../src/model/scanned";

const NOW = new Date("2026-03-11T09:20:00Z");
/** The worked example of 49 CFR 565.15 (Table VI). */
const EXAMPLE = "1G4AH59H45G118341";
/** No check digit: a number of a region that does not ask for one. */
const ABROAD = "WZZZZZ8N13A123456";
const read = (...texts: string[]): string | undefined => vinIn(texts, NOW)?.vin;

describe("a VIN in a barcode", () => {
  test.each([EXAMPLE, `I${EXAMPLE}`, `*${EXAMPLE}*`, EXAMPLE.toLowerCase(), `VIN:${EXAMPLE};1200KG`])("%s holds it", (text) => expect(read(text)).toBe(EXAMPLE));
  test.each(["", "4012345678901", EXAMPLE.slice(1), EXAMPLE.replace("341", "314"), "https://example.test/part/17", "12345678901234567", "ABCDEFGHJKLMNPRST"])("%s holds none", (text) => expect(read(text)).toBeUndefined());
  test("the one whose check digit holds goes first", () => expect(read(ABROAD, EXAMPLE)).toBe(EXAMPLE));
});

describe("when it is believed", () => {
  test("at once where its check digit holds", () => expect(agreeing(NOW)([EXAMPLE])).toBe(EXAMPLE));
  test("at the second like reading where it has none", () => {
    const take = agreeing(NOW);
    expect([take([ABROAD]), take([ABROAD.replace("456", "458")]), take([]), take([ABROAD.replace("456", "458")])]).toEqual([null, null, null, ABROAD.replace("456", "458")]);
  });
});
