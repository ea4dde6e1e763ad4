import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import * as alone from "../src/texts/en/alone";
import { heads, tables } from "../src/texts/en/failing";
import { literalsIn, looseIn } from "./loose-texts";

const SRC = fileURLToPath(new URL("../src/", import.meta.url));
const all = new Set(readdirSync(SRC, { recursive: true, encoding: "utf8" }).map((name) => name.replaceAll("\\", "/")));
const source = (name: string): string => readFileSync(SRC + name, "utf8");
const code = [...all].filter((name) => /\.tsx?$/.test(name) && !name.startsWith("texts/"));

/** Words of the service, of acts and of sheets: said to the service or compared, never shown as they are. */
const KEYS = new Set(
  ["wire-values.ts", "wire-case.ts", "wire-shop.ts", "wire-office.ts", "model/outbox.ts", "model/sync-state.ts", "app-sheet.ts", "texts/en/alone.ts"].flatMap((name) => [...literalsIn(SRC + name)]),
);
// Of the texts only the short words by which some are looked up are keys.
for (const group of Object.values<Readonly<Record<string, unknown>>>(alone)) for (const text of Object.values(group)) KEYS.delete(String(text));
// Tables and their columns are named in the address by the names of their texts.
for (const key of [...Object.keys(heads), ...Object.keys(tables)]) KEYS.add(key);
/** Not for a person's eyes, and why. */
const NO_SCREEN: Readonly<Record<string, string>> = {
  "net.ts": "names of headers",
  "wire-parse.ts": "what an answer lacks, for who mends the service",
  "model/terms.ts": "words that weigh nothing in a search",
  "model/arithmetic.ts": "what is wrong with a formula of the trade lists",
  "app-look.ts": "questions to the browser",
  "model/spoken.ts": "numbers as they are spoken",
  "phone-unsent.ts": "the head of a file",
};
/** Single strings that are no text of the interface. */
const NO_TEXT = new Set([
  "AbortError", "QuotaExceededError", "NotAllowedError", "SecurityError", "NotFoundError", "OverconstrainedError", "main input[type=search]", "Enter",
  "Baylore", "lb ft", "in hg", "inches of mercury", "degrees c", "degrees f", "newton meters", "ft lb", "foot pounds", "per cent",
  "grados centígrados", "grados centigrados", "por ciento",
  "something else", "not known yet", "another cause", " or not", ".strip h1", "take over", "bar unlisted", "half last", "wrong unit", "NotJoined", "; path=/; samesite=strict; max-age=",
]);
/** Without signal the thread answers word for word as the service does: both in English. */
const asTheService = (name: string): boolean => name.startsWith("reason/") || name.startsWith("sw/") || name === "reason-worker.ts";

describe("loose text", () => {
  test("is found in tags, in what is read aloud, and in strings handed to a view", () => {
    const tsx = `const a = <p class="very soft" aria-label="read aloud">Shown <b title={on ? "one" : "two"}>{x}</b></p>; const b = \`\${n} of \${m}\`; const c = "two words"; throw new AskError("not shown");`;
    expect(looseIn("a.tsx", tsx)).toEqual(["read aloud", "Shown", "one", "two", " of ", "two words"]);
  });

  test("stands in no file: all of it comes from the catalogue", () => {
    const seen = code.filter((name) => !(name in NO_SCREEN) && !asTheService(name));
    expect(seen.length).toBeGreaterThan(100);
    const loose = seen.flatMap((name) => looseIn(name, source(name)).filter((text) => !KEYS.has(text) && !NO_TEXT.has(text)).map((text) => `${name}: ${text}`));
    expect(loose).toEqual([]);
  });
});

test("each use of a text has one in the catalogue's first or later part", async () => {
  const { t } = await import("../src/texts");
  const uses = code.flatMap((name) => [...source(name).matchAll(/\bt\(\)\.(\w+)\.(\w+)/g)]);
  const texts = t() as unknown as Record<string, Record<string, unknown> | undefined>;
  expect(uses.length).toBeGreaterThan(300);
  expect(uses.filter(([, group = "", key = ""]) => texts[group]?.[key] === undefined).map(([use]) => use)).toEqual([]);
});

test("each text is read by its full name, for the built client knows no other", () => {
  const named = /\bt\(\)\.(?!named\b|shows\b|lacking\b|heads\b|tables\b)\w+(?!\w|\.\w)/;
  expect(code.filter((name) => named.test(source(name)))).toEqual([]);
});

/** Files that a start loads at once, by their static imports. */
function startFiles(name: string, seen = new Set<string>()): Set<string> {
  seen.add(name);
  const folder = name.includes("/") ? name.slice(0, name.lastIndexOf("/") + 1) : "";
  for (const [, path = ""] of source(name).matchAll(/^(?:import|export)\s(?!type)[^;]*?from "(\.[^"]+)"/gm)) {
    const bare = new URL(path, `file:///${folder}`).pathname.slice(1);
    const there = [`${bare}.tsx`, `${bare}.ts`, `${bare}/index.ts`].find((each) => all.has(each));
    if (there && !seen.has(there)) startFiles(there, seen);
  }
  return seen;
}

test.each([["main.tsx", "views/ask.tsx"], ["reason-worker.ts", "model/local-judge.ts"]])("%s uses no text that is loaded after it", async (begin, among) => {
  const { first } = await import("../src/texts/en");
  const start = [...startFiles(begin)];
  expect(start).toContain(among);
  const groups = start.flatMap((name) => [...source(name).matchAll(/\bt\(\)\.(\w+)/g)].map(([, group = ""]) => group));
  expect([...new Set(groups)].filter((group) => !(group in first))).toEqual([]);
});
