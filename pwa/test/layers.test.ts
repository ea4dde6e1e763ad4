import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const SRC = fileURLToPath(new URL("../src/", import.meta.url));
const files = readdirSync(SRC, { recursive: true, encoding: "utf8" }).filter((name) => /\.tsx?$/.test(name));
const text = (name: string): string => readFileSync(join(SRC, name), "utf8");
const IMPORTED = /(?:^|[\s}])from\s+"([^"\n]+)";|\bimport\s*\(\s*"([^"\n]+)"|^import\s+"([^"\n]+)"/gm;
const imports = (name: string): readonly string[] =>
  [...text(name).matchAll(IMPORTED)].map(([, from, later, bare]) => from ?? later ?? bare ?? "");
const under = (folder: string): readonly string[] => files.filter((name) => name.startsWith(`${folder}/`));

/** Folder, and what its files may import. */
const MAY: readonly (readonly [string, RegExp])[] = [
  ["texts", /^(\.\.?\/|@preact\/signals$)/],
  ["model", /^(\.\/|\.\.\/(wire|texts)$)/],
  ["ui", /^(\.\/|\.\.\/model\/|\.\.\/(wire|texts)|preact|@preact\/signals$)/],
  ["views", /^(\.\/|\.\.\/(ui|model)\/|\.\.\/(wire|texts|build)|preact|@preact\/signals$)/],
  ["reason", /^(\.\/|\.\.\/(model\/|wire$|wire-reasoning$))/],
  ["sw", /^\.\//],
];

describe("imports point one way", () => {
  test.each(MAY)("%s", (folder, allowed) => {
    const strays = under(folder).flatMap((name) => imports(name).filter((path) => !allowed.test(path)));
    expect(strays).toEqual([]);
    expect(under(folder).length).toBeGreaterThan(0);
  });

  test("what travels imports nothing of the app", () => {
    const wire = files.filter((name) => /^wire.*\.ts$/.test(name));
    expect(wire.flatMap(imports).filter((path) => !path.startsWith("./wire"))).toEqual([]);
  });
});

describe("one file each", () => {
  const touching = (pattern: RegExp): readonly string[] =>
    files.filter((name) => !name.startsWith("sw/") && pattern.test(text(name)));

  test("touches IndexedDB", () => expect(touching(/\bindexedDB\b|from "idb"/)).toEqual(["db.ts"]));
  test("touches the network", () =>
    expect(touching(/(?<![.\w])fetch\(|\(\.\.\.given\)|XMLHttpRequest|sendBeacon/)).toEqual(["net.ts"]));
});

test.each(["model", "reason"])("%s asks no clock, no chance and no page", (folder) => {
  const impure = /\bDate\.now|new Date\(\)|Math\.random|\b(document|window|localStorage|navigator)\./;
  expect(under(folder).filter((name) => impure.test(text(name)))).toEqual([]);
});

test("no file is longer than 300 lines, and nothing is of any type", () => {
  expect(files.filter((name) => text(name).split("\n").length > 301)).toEqual([]);
  expect(
    files.filter((name) => /(:|<|as|\|)\s*any\b/.test(text(name).replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, ""))),
  ).toEqual([]);
});

test("few parts are needed at run time, the reader of barcodes only where the browser has none", () => {
  const manifest = JSON.parse(readFileSync(join(SRC, "../package.json"), "utf8")) as { dependencies: object };
  expect(Object.keys(manifest.dependencies)).toEqual(["@preact/signals", "@zxing/library", "idb", "preact"]);
  expect(files.filter((name) => text(name).includes("@zxing"))).toEqual(["scan-points.ts"]);
});

test("the lock names no download address", () => {
  expect(readFileSync(join(SRC, "../package-lock.json"), "utf8")).not.toContain('"resolved"');
});
