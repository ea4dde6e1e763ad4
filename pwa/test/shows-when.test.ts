import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { SHOWS_WHEN } from "../src/model/shows-when";
import { shows } from "../src/texts/en/said";

const ENGINE = fileURLToPath(new URL("../../kb/baylore_kb/conditions.py", import.meta.url));

/** The rows of the engine's own list, in its order. */
function engineList(): readonly (readonly [id: string, title: string])[] {
  const text = readFileSync(ENGINE, "utf8");
  const [, block = ""] = /^SHOWS_WHEN[^{]*\{([^}]*)\}/m.exec(text) ?? [];
  return [...block.matchAll(/"(\w+)": "([^"]+)"/g)].map(([, id = "", title = ""]) => [id, title] as const);
}

test("the phone offers exactly the conditions that the engine weighs, in the same words", () => {
  expect(engineList().length).toBeGreaterThan(5);
  expect(SHOWS_WHEN).toEqual(engineList().map(([id]) => id));
  expect(shows).toEqual(Object.fromEntries(engineList()));
});
