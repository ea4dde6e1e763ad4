import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

const SRC = fileURLToPath(new URL("../src/", import.meta.url));
/** Places whose texts are not in the catalogue yet. */
const NOT_YET = /(local-|failing)/;
const views = readdirSync(SRC, { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".tsx") && !NOT_YET.test(name));

/** Words that stand between tags, outside any catalogue. */
function looseIn(name: string): string[] {
  const parsed = ts.createSourceFile(name, readFileSync(SRC + name, "utf8"), ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
  const loose: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && /\p{L}/u.test(node.text)) loose.push(`${name}: ${node.text.trim()}`);
    ts.forEachChild(node, visit);
  };
  visit(parsed);
  return loose;
}

test("no view holds loose text between its tags", () => {
  expect(views.length).toBeGreaterThan(20);
  expect(views.flatMap(looseIn)).toEqual([]);
});

test("each use of a text has one in the catalogue's first or later part", async () => {
  const { t } = await import("../src/texts");
  const uses = views.flatMap((name) => [...readFileSync(SRC + name, "utf8").matchAll(/\bt\(\)\.(\w+)\.(\w+)/g)]);
  const all = t() as unknown as Record<string, Record<string, unknown> | undefined>;
  expect(uses.filter(([, group = "", key = ""]) => all[group]?.[key] === undefined).map(([use]) => use)).toEqual([]);
});

test("each text is read by its full name, for the built client knows no other", () => {
  const named = /\bt\(\)\.(?!named\b|shows\b)\w+(?!\w|\.\w)/;
  const code = readdirSync(SRC, { recursive: true, encoding: "utf8" }).filter((name) => /\.tsx?$/.test(name));
  expect(code.filter((name) => named.test(readFileSync(SRC + name, "utf8")))).toEqual([]);
});

/** Files that the start loads at once, by their static imports. */
function startFiles(name = "main.tsx", seen = new Set<string>()): Set<string> {
  seen.add(name);
  const folder = name.includes("/") ? name.slice(0, name.lastIndexOf("/") + 1) : "";
  for (const [, path = ""] of readFileSync(SRC + name, "utf8").matchAll(/^(?:import|export)\s(?!type)[^;]*?from "(\.[^"]+)"/gm)) {
    const bare = new URL(path, `file:///${folder}`).pathname.slice(1);
    const there = [`${bare}.tsx`, `${bare}.ts`, `${bare}/index.ts`].find((each) => all.has(each));
    if (there && !seen.has(there)) startFiles(there, seen);
  }
  return seen;
}

const all = new Set(readdirSync(SRC, { recursive: true, encoding: "utf8" }).map((name) => name.replaceAll("\\", "/")));

test("the start uses no text that is loaded after it", async () => {
  const { first } = await import("../src/texts/en");
  const start = [...startFiles()];
  expect(start).toContain("views/ask.tsx");
  const groups = start.flatMap((name) => [...readFileSync(SRC + name, "utf8").matchAll(/\bt\(\)\.(\w+)/g)].map(([, group = ""]) => group));
  expect([...new Set(groups)].filter((group) => !(group in first))).toEqual([]);
});
