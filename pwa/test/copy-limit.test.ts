import { expect, test, vi } from "vitest";
import { openDb } from "../src/db";
import { overLimit } from "../src/model/copy-limit";
import { heldCookie, heldIn } from "../src/model/held";
import { keepNewest } from "../src/sync-keep";
import { parseCase, read } from "../src/wire";
import type { Case } from "../src/wire";
import { freshName } from "./bench";

const closed = (id: string, day: string, more: object = {}): Case =>
  read(parseCase, { id, state: "closed", revision: 1, complaint: "x".repeat(200), closed: `${day}T09:00:00Z`, ...more });

const size = JSON.stringify(closed("a", "2026-01-01")).length;
const roomFor = (count: number): { bytes: number; years: number } => ({ bytes: size * count + 20, years: 15 });

test("the newest stay and the oldest are left to the service", () => {
  const cases = [closed("a", "2024-01-01"), closed("b", "2026-01-01"), closed("c", "2025-01-01")];
  expect(overLimit(cases, new Set(), roomFor(2))).toEqual(["a"]);
});

test("an open case and one with unsent acts stay, however old", () => {
  const open = closed("a", "2011-01-01", { state: "open" });
  const cases = [open, closed("b", "2012-01-01"), closed("c", "2026-01-01"), closed("d", "2026-02-01")];
  expect(overLimit(cases, new Set(["b"]), roomFor(3))).toEqual(["c"]);
});

test("what is many years older than the newest is left out even where there is room", () => {
  expect(overLimit([closed("a", "2005-01-01"), closed("b", "2026-01-01")], new Set(), roomFor(9))).toEqual(["a"]);
});

test("within the limits everything stays", () => {
  expect(overLimit([closed("a", "2024-01-01")], new Set())).toEqual([]);
  expect(overLimit([], new Set())).toEqual([]);
});

test("the note beside the store comes back from the cookies", () => {
  const cookie = heldCookie({ member: "Kit; Nørre", unsent: 3 }).split("; ")[0] ?? "";
  expect(heldIn(`other=1; ${cookie}`)).toEqual({ member: "Kit; Nørre", unsent: 3 });
});

test.each(["", "other=1", "baylore_held=", "baylore_held=%7B", "baylore_held=%E0%A4%A", "baylore_held=%7B%22unsent%22%3A1%7D"])("%j holds no note", (cookies) => {
  expect(heldIn(cookies)).toBeNull();
});

test("what is over the limit leaves the store, and how many is told", async () => {
  const db = await openDb({ name: freshName() });
  for (const [id, day] of [["a", "2024-01-01"], ["b", "2026-01-01"], ["c", "2025-01-01"]] as const) await db.putCase(closed(id, day));
  const changed = vi.fn();
  await keepNewest({ db, changed }, roomFor(2));
  expect((await db.cases()).map(({ id }) => id)).toEqual(["b", "c"]);
  expect([await db.meta("leftOut"), changed.mock.calls.length]).toEqual([1, 1]);
  await keepNewest({ db, changed }, roomFor(2));
  expect(await db.meta("leftOut")).toBe(1);
});
