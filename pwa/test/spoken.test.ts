import { describe, expect, test } from "vitest";
import { inFigures } from "../src/model/spoken";
import { appended } from "../src/ui/dictate";

describe("words to figures", () => {
  test.each([
    ["nineteen", "19"],
    ["forty two", "42"],
    ["four hundred and seventy", "470"],
    ["two thousand three hundred", "2300"],
    ["one two three", "1 2 3"],
    ["point five", "point 5"],
    ["weight", "weight"],
    ["Twelve Point One", "12.1"],
    ["12.1 volts", "12.1 volts"],
    ["", ""],
  ])("%s: %s", (text, figures) => expect(inFigures(text)).toBe(figures));

  test("every whole number to ninety-nine comes back", () => {
    const small = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(" ");
    const tens = "twenty thirty forty fifty sixty seventy eighty ninety".split(" ");
    const words = [...small, ...tens.flatMap((ten) => [ten, ...small.slice(1, 10).map((unit) => `${ten}-${unit}`)])];
    expect(words.map(inFigures)).toEqual(Array.from({ length: 100 }, (_, at) => String(at)));
  });
});

test("what was heard goes behind what stands there", () => {
  expect(appended("no crank ", " when hot")).toBe("no crank when hot");
  expect(appended("", "no crank")).toBe("no crank");
});
