import { openDB } from "idb";
import { describe, expect, test } from "vitest";
import { openDb } from "../src/db";
import { newDraft } from "../src/model/draft";
import { newEntry, parked, sending } from "../src/model/outbox";
import type { Entry } from "../src/model/outbox";
import { parseProblem, parseTradeAnswer, read } from "../src/wire";
import { NOW, OWNER, aCase, freshName, openAct, testAct } from "./bench";
import { ME } from "./fake-service";

const entry = (key: string) => newEntry("c1", testAct(key), { key, owner: OWNER, now: NOW });
const photo = { id: "f1", type: "image/jpeg", data: new Uint8Array([1, 2]).buffer };

/** The store as the first version of the phone left it. */
async function firstVersion(name: string): Promise<void> {
  const old = await openDB(name, 1, {
    upgrade(db) {
      ["meta", "photos"].forEach((store) => db.createObjectStore(store, store === "meta" ? {} : { keyPath: "id" }));
      ["cases", "drafts"].forEach((store) => db.createObjectStore(store, { keyPath: "id" }));
      db.createObjectStore("trade", { keyPath: "list" });
      db.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true }).createIndex("key", "key", { unique: true });
    },
  });
  const { repairs, skipped, objections, shows_when, ...known } = aCase({ note: "kept" });
  const { lacks, rights, ...shop } = ME.shop;
  const { shows_when: _later, ...draft } = newDraft("d1", NOW);
  await Promise.all([
    old.put("cases", known),
    old.put("drafts", draft),
    old.put("meta", { ...ME, shop, member: { id: "m1", name: "Kit", role: "technician", skill: 3, active: true } }, "me"),
    old.put("meta", 7, "cursor"),
    old.add("outbox", entry("waits")),
  ]);
  old.close();
}

test("a phone of the first version keeps its work and reads the log anew", async () => {
  const name = freshName();
  await firstVersion(name);
  const db = await openDb({ name });
  expect(await db.cases()).toMatchObject([{ note: "kept", repairs: [], skipped: [], objections: [], shows_when: [] }]);
  expect(await db.drafts()).toMatchObject([{ id: "d1", shows_when: [] }]);
  expect(await db.meta("me")).toMatchObject({ member: { rights: [] }, shop: { lacks: [], rights: [], name: "Bay Two" } });
  expect([await db.unsent(), await db.meta("cursor")]).toEqual([1, null]);
});

describe("the phone's store", () => {
  test("keeps the outbox in order over a restart", async () => {
    const name = freshName();
    const db = await openDb({ name });
    for (const key of ["one", "two", "three"]) await db.enqueue([entry(key)]);
    db.close();
    expect((await (await openDb({ name })).outbox()).map(({ key }) => key)).toEqual(["one", "two", "three"]);
  });

  test("takes the act, its picture and its draft together or not at all", async () => {
    const db = await openDb({ name: freshName() });
    await db.putDraft(newDraft("d1", NOW));
    await db.enqueue([entry("same")]);
    await expect(db.enqueue([entry("same")], { photo, draft: "d1" })).rejects.toThrow();
    expect([await db.unsent(), await db.photo("f1"), (await db.drafts()).length]).toEqual([1, null, 1]);
    await db.enqueue([entry("other")], { photo, draft: "d1" });
    expect([await db.unsent(), (await db.photo("f1"))?.type, (await db.drafts()).length]).toEqual([2, "image/jpeg", 0]);
  });

  test("never puts an older revision over a newer one", async () => {
    const db = await openDb({ name: freshName() });
    await db.putCase(aCase({ revision: 5, note: "new" }));
    await db.putCase(aCase({ revision: 4, note: "old" }));
    await db.applyChanges(
      [{ seq: 4, kind: "case", id: "c1", op: "put", case: aCase({ revision: 4, note: "old" }) }],
      4,
    );
    expect(await db.case("c1")).toMatchObject({ revision: 5, note: "new" });
    expect(await db.meta("cursor")).toBe(4);
  });

  test("forgets an entry and its picture once the case is stored", async () => {
    const db = await openDb({ name: freshName() });
    const act = { do: "photo", photo: { id: "f1", type: "image/jpeg", bytes: 2, note: "", step: null } } as const;
    await db.enqueue([newEntry("c1", act, { key: "k", owner: OWNER, now: NOW })], { photo });
    const [waiting] = await db.outbox();
    await db.settle(waiting as Entry, { put: aCase({ revision: 9 }) });
    expect([await db.unsent(), await db.photo("f1"), (await db.case("c1"))?.revision]).toEqual([0, null, 9]);
  });

  test("an entry let go meanwhile does not come back", async () => {
    const db = await openDb({ name: freshName() });
    await db.enqueue([entry("k")]);
    const [waiting] = await db.outbox();
    await db.settle(waiting as Entry);
    await db.putEntry(parked(sending(waiting as Entry), read(parseProblem, { status: 422 })));
    expect(await db.outbox()).toEqual([]);
  });

  test("gives the trade lists it has and empty ones for the rest", async () => {
    const db = await openDb({ name: freshName() });
    const cautions = read(parseTradeAnswer("cautions"), { version: "1", items: [{ id: "hot", title: "Hot" }] });
    await db.putTradeList({ list: "cautions", etag: '"1"', ...cautions });
    expect(await db.trade()).toMatchObject({ cautions: [{ id: "hot" }], tests: [] });
  });

  test("signing out leaves nothing", async () => {
    const db = await openDb({ name: freshName() });
    await db.signIn("t", ME);
    await db.putCase(aCase());
    await db.enqueue([entry("k")], { photo });
    await db.putDraft(newDraft("d1", NOW));
    await db.wipe();
    expect([
      await db.meta("token"),
      await db.cases(),
      await db.unsent(),
      await db.photo("f1"),
      await db.drafts(),
    ]).toEqual([null, [], 0, null, []]);
  });

  test("a new sign-in takes nothing over from an earlier shop but the unsent acts of their owner", async () => {
    const db = await openDb({ name: freshName() });
    await db.putCase(aCase());
    await db.applyChanges([], 7);
    await db.enqueue([newEntry("c1", openAct("c1"), { key: "k", owner: OWNER, now: NOW })]);
    await db.signIn("t", { ...ME, shop: { ...ME.shop, id: "s2" } });
    expect([await db.cases(), await db.meta("cursor"), (await db.outbox())[0]?.owner]).toEqual([[], null, OWNER]);
  });

  test("lets a newer page upgrade, and says that it was taken away", async () => {
    const name = freshName();
    let lost = 0;
    await openDb({ name, lost: () => (lost += 1) });
    await new Promise((done, fail) => {
      const request = indexedDB.open(name, 99);
      request.onsuccess = done;
      request.onerror = fail;
    });
    expect(lost).toBe(1);
  });
});

test("cases read in portions are all there, each once", async () => {
  const db = await openDb({ name: freshName() });
  const ids = Array.from({ length: 601 }, (_, place) => `case-${String(place).padStart(4, "0")}`);
  await Promise.all(ids.map((id) => db.putCase(aCase({ id }))));
  expect((await db.cases()).map(({ id }) => id)).toEqual(ids);
  db.close();
});
