/** The colours as they are written: every text pair in every look (WCAG 2.2, relative luminance and contrast ratio). */

import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

type Colours = Readonly<Record<string, string>>;

const css = readFileSync(new URL("../src/style/tokens.css", import.meta.url), "utf8");

function coloursOf(selector: string): Colours {
  const from = css.indexOf(`${selector} {`);
  const block = css.slice(from, css.indexOf("}", from));
  return Object.fromEntries([...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map(([, name = "", colour = ""]) => [name, colour]));
}

const light = coloursOf(":root");
const dark = { ...light, ...coloursOf(':root[data-look="dark"]') };
const more = coloursOf(':root[data-contrast="more"]');
const LOOKS: readonly (readonly [name: string, colours: Colours, least: number])[] = [
  ["light", light, 7],
  ["dark", dark, 7],
  ["light, high contrast", { ...light, ...more }, 12],
  ["dark, high contrast", { ...dark, ...more, ...coloursOf(':root[data-contrast="more"][data-look="dark"]') }, 12],
];
const GROUNDS = ["floor", "paper", "tag"];
const PAIRS: readonly (readonly [text: string, ground: string])[] = [
  ...["ink", "ink-soft", "carbon"].flatMap((text) => GROUNDS.map((ground) => [text, ground] as const)),
  ...["good", "bad", "warn", "ink"].flatMap((text) => ["paper", "warn-paper"].map((ground) => [text, ground] as const)),
  ["on-carbon", "carbon"],
  ["strip-ink", "strip-paper"],
];

function luminance(colour: string): number {
  const parts = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255);
  const [r = 0, g = 0, b = 0] = parts.map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one: string, other: string): number {
  const [low = 0, high = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

test("black on white is 21 to 1, and #777777 on white 4.48 to 1", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 5);
  expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2);
});

test.each(LOOKS)("%s: every text can be read on its ground", (_, colours, least) => {
  const weak = PAIRS.map(([text, ground]) => ({ pair: `${text} on ${ground}`, ratio: contrast(colours[text] ?? "", colours[ground] ?? "") }));
  expect(weak.filter(({ ratio }) => !(ratio >= least))).toEqual([]);
});
