import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { openDb } from "../src/db";
import type { Db } from "../src/db";
import { createRefresh, createShown } from "../src/phone-store";
import { aCase, freshName } from "./bench";
import { ME } from "./fake-service";

async function shownOver() {
  const db: Db = await openDb({ name: freshName() });
  await db.signIn("t", ME);
  const shown = createShown();
  return { db, shown, refresh: createRefresh(() => db, shown) };
}

test("a case that did not change stays the same object, one that did is a new one", async () => {
  const { db, shown, refresh } = await shownOver();
  await db.putCase(aCase({ id: "a" }));
  await db.putCase(aCase({ id: "b" }));
  await refresh();
  const [a, b] = shown.stored.value;
  await db.putCase(aCase({ id: "b", revision: 2, note: "new" }));
  await refresh();
  expect(shown.stored.value[0]).toBe(a);
  expect(shown.stored.value[1]).not.toBe(b);
  expect(shown.stored.value[1]?.note).toBe("new");
});

test("cases are not read again when only the outbox changed", async () => {
  const { db, shown, refresh } = await shownOver();
  await db.putCase(aCase());
  await refresh();
  const before = shown.stored.value;
  await refresh();
  expect(shown.stored.value).toBe(before);
});

test("signing out empties what is shown", async () => {
  const { db, shown, refresh } = await shownOver();
  await db.putCase(aCase());
  await refresh();
  await db.wipe();
  await refresh();
  expect([shown.stored.value, shown.me.value]).toEqual([[], null]);
});

test("calls while one read runs see the last state", async () => {
  const { db, shown, refresh } = await shownOver();
  const first = refresh();
  await db.putCase(aCase());
  await Promise.all([first, refresh(), refresh()]);
  expect(shown.stored.value).toHaveLength(1);
});
