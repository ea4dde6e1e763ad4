import { describe, expect, test } from "vitest";
import { spokenFor } from "../src/texts/choice";
import { LANGUAGES, locale, needLater, speak, t } from "../src/texts";
import type { Texts } from "../src/texts";

const textsOf = async (name: keyof typeof LANGUAGES): Promise<Texts> => ({ ...(await LANGUAGES[name].first()), ...(await LANGUAGES[name].later()) });
const english = await textsOf("en");
const others = await Promise.all(Object.keys(LANGUAGES).filter((name) => name !== "en").map(async (name) => [name, await textsOf(name as "es")] as const));

/** Signs, units, and words that are one in both languages. */
const SAME_IN_BOTH = new Set(["ask.p0303", "format.min", "format.hours", "shopHabits.kpaCKm", "shop.kpaCKm", "caseStep.no", "readingSheet.no", "handover.at", "handover.single", "handover.total", "clash.fields.vin"]);

type Entry = readonly [path: string, text: unknown];
const entries = (texts: Texts): readonly Entry[] =>
  Object.entries(texts).flatMap(([group, of]) => Object.entries(of).flatMap(([key, text]) => leaves(`${group}.${key}`, text)));

/** A text, or those that stand under a name. */
const leaves = (path: string, text: unknown): readonly Entry[] =>
  typeof text === "object" && text !== null ? Object.entries(text).map(([key, inner]) => [`${path}.${key}`, inner]) : [[path, text]];

/** A stand-in for anything a text may be given: a figure no text holds by itself, and the same for each named part of it. */
function standIn(figure: number): unknown {
  const parts = (name: string | symbol): unknown => {
    if (name === Symbol.toPrimitive) return () => figure;
    if (name === "join") return () => String(figure);
    return figure * 1000 + [...String(name)].reduce((sum, sign) => sum + sign.charCodeAt(0), 0);
  };
  return new Proxy({}, { get: (_, name) => parts(name) });
}

/** The text with stand-ins in its places. */
const filled = (text: unknown): string => (typeof text === "function" ? String((text as (...of: unknown[]) => unknown)(...[71, 73, 79].map(standIn))) : String(text));
/** What was put in, however often. */
const placesOf = (text: unknown): readonly string[] => [...new Set(filled(text).match(/\d{2,}/g) ?? [])].sort();

describe.each(others)("%s", (_, texts) => {
  const words = new Map(entries(texts));

  test("has every text of the English, and none besides", () => {
    expect([...words.keys()].sort()).toEqual(entries(english).map(([path]) => path).sort());
    expect([...words.values()].filter((text) => filled(text).trim() === "")).toEqual([]);
  });

  test("leaves no text in English but the few that are the same", () =>
    expect(entries(english).filter(([path, text]) => filled(text) === filled(words.get(path))).map(([path]) => path).filter((path) => !SAME_IN_BOTH.has(path))).toEqual([]));

  test("puts the same things into its texts", () => {
    const inText = entries(english).filter(([, text]) => typeof text === "function");
    expect(inText.length).toBeGreaterThan(60);
    expect(inText.filter(([path, text]) => placesOf(text).join() !== placesOf(words.get(path)).join()).map(([path]) => path)).toEqual([]);
  });

  test("keeps the blanks and commas at the ends of pieces that are joined to others", () => {
    const ends = (text: unknown): string => filled(text).replace(/\S.*\S|\S/s, (all) => (/^[,.]/.test(all) ? "," : ""));
    expect(entries(english).filter(([path, text]) => ends(text) !== ends(words.get(path))).map(([path]) => path)).toEqual([]);
  });
});

test("a Spanish question opens with its sign", async () => {
  const asking = entries(await textsOf("es")).map(([path, text]) => [path, filled(text)] as const).filter(([, text]) => text.includes("?"));
  expect(asking.length).toBeGreaterThan(15);
  expect(asking.filter(([, text]) => !text.includes("¿")).map(([path]) => path)).toEqual([]);
});

describe("the language spoken", () => {
  test.each([
    ["phone", ["es-MX", "en-US"], "es", "es-MX"],
    ["phone", ["ca-ES", "es-ES"], "es", "es-ES"],
    ["phone", ["de-DE", "en-GB"], "en", "en-GB"],
    ["phone", ["de-DE"], "en", undefined],
    ["en", ["es-ES"], "en", "en"],
    ["es", ["en-US"], "es", "es"],
    ["es", ["en-US", "es-US"], "es", "es-US"],
  ] as const)("is, for %s on a phone set to %s, %s with figures of %s", (choice, phones, language, figures) =>
    expect(spokenFor(choice, phones)).toEqual({ language, locale: figures }));

  test("changes texts and figures together, and a place loaded meanwhile gets the new ones", async () => {
    await Promise.all([speak("es", "es-ES"), needLater()]);
    expect([t().ask.askTheMemory, t().heads.month, locale()]).toEqual(["Consultar la memoria", "Mes", "es-ES"]);
    await speak("en", undefined);
    expect([t().ask.askTheMemory, t().heads.month, locale()]).toEqual(["Ask the memory", "Month", undefined]);
  });
});
