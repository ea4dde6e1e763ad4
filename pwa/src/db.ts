/** The phone's own store. Only this file touches IndexedDB. */

import { openDB } from "idb";
import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from "idb";
import type { Meta, Packet, StoredList, StoredPart, StoredPhoto } from "./db-records";
import type { Draft } from "./model/draft";
import { newId } from "./model/ids";
import { packedCase, unpackedCase } from "./model/packed-case";
import type { PackedCase } from "./model/packed-case";
import type { Entry, NewEntry } from "./model/outbox";
import type { Case, Change, Me, Trade } from "./wire";
import { EMPTY_TRADE, TRADE_LISTS } from "./wire";
import type { ReasoningPart } from "./wire-reasoning";

export type { StoredPhoto } from "./db-records";

interface Schema extends DBSchema {
  meta: { key: string; value: unknown };
  cases: { key: string; value: PackedCase | Case };
  trade: { key: string; value: StoredList };
  drafts: { key: string; value: Draft };
  outbox: { key: number; value: Entry | NewEntry; indexes: { key: string } };
  photos: { key: string; value: StoredPhoto };
  reasoning: { key: string; value: StoredPart };
  texts: { key: number; value: Packet };
}

type Upgrade = IDBPTransaction<Schema, StoreNames<Schema>[], "versionchange">;

/** One step per version; a published step is never changed, a new one is added. */
const STEPS: readonly ((db: IDBPDatabase<Schema>, work: Upgrade) => void | Promise<void>)[] = [
  (db) => {
    db.createObjectStore("meta");
    db.createObjectStore("cases", { keyPath: "id" });
    db.createObjectStore("trade", { keyPath: "list" });
    db.createObjectStore("drafts", { keyPath: "id" });
    const outbox = db.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true });
    outbox.createIndex("key", "key", { unique: true });
    db.createObjectStore("photos", { keyPath: "id" });
  },
  // What was kept before these fields were known gets them empty at once, and is read anew from the log with signal.
  async (_db, work) => {
    await filled(work, "cases", { repairs: [], skipped: [], objections: [], shows_when: [] });
    await filled(work, "drafts", { shows_when: [] });
    const meta = work.objectStore("meta");
    const me = (await meta.get("me")) as Me | undefined;
    if (me) await meta.put({ ...me, member: { ...NO_RIGHTS, ...me.member }, shop: { ...NO_HABITS, ...me.shop } }, "me");
    await meta.delete("cursor");
  },
  (db) => {
    db.createObjectStore("reasoning", { keyPath: "part" });
    db.createObjectStore("texts", { autoIncrement: true });
  },
];

const NO_RIGHTS = { rights: [] };
const NO_HABITS = { lacks: [], rights: [], shares: false };

/** Lays empty fields under every record of a store that lacks them. */
async function filled(work: Upgrade, store: "cases" | "drafts", empty: object): Promise<void> {
  for await (const at of work.objectStore(store)) await at.update({ ...empty, ...at.value } as Case & Draft);
}

export type Db = Awaited<ReturnType<typeof openDb>>;

function connect(name: string, { leaving = () => {}, lost = () => {} }: { leaving?: () => void; lost?: () => void }): Promise<IDBPDatabase<Schema>> {
  return openDB<Schema>(name, STEPS.length, {
    upgrade: async (db, from, _to, work) => {
      for (const step of STEPS.slice(from)) await step(db, work);
    },
    blocking: (_from, _to, event) => {
      // A newer page wants to upgrade: let go, or it waits for ever. What is being typed is put away first.
      leaving();
      (event.target as IDBDatabase).close();
      lost();
    },
    terminated: lost,
  });
}

/** Opens the store; `lost` is called when the browser or a newer page takes it away, `leaving` while it can still be written to. */
export async function openDb({ name = "baylore", ...ends }: { name?: string; leaving?: () => void; lost?: () => void } = {}) {
  const db = await connect(name, ends);
  return {
    ...metaOf(db),
    ...casesOf(db),
    ...tradeOf(db),
    ...reasoningOf(db),
    ...draftsOf(db),
    ...outboxOf(db),
    ...photosOf(db),
    ...leavingOf(db),
    close: () => db.close(),
  };
}

/** One transaction: all of `act` or nothing; its failure is the call's failure. */
async function inWork<const S extends readonly StoreNames<Schema>[]>(
  db: IDBPDatabase<Schema>,
  stores: S,
  act: (work: IDBPTransaction<Schema, S, "readwrite">) => Promise<unknown>,
): Promise<void> {
  const work = db.transaction(stores, "readwrite");
  await Promise.all([act(work), work.done]);
}

const metaOf = (db: IDBPDatabase<Schema>) => ({
  meta: async <K extends keyof Meta>(key: K): Promise<Meta[K] | null> =>
    ((await db.get("meta", key)) as Meta[K] | undefined) ?? null,
  setMeta: async <K extends keyof Meta>(key: K, value: Meta[K]): Promise<void> => {
    await db.put("meta", value, key);
  },
  /** What tells whether anything changed, and what is unsent, in one transaction. */
  async present(): Promise<{ readonly stamps: readonly unknown[]; readonly outbox: readonly Entry[] }> {
    const work = db.transaction(["meta", "outbox"]);
    const meta = work.objectStore("meta");
    const [outbox, ...stamps] = await Promise.all([work.objectStore("outbox").getAll(), ...STAMPS.map((which) => meta.get(which))]);
    return { stamps, outbox: outbox as Entry[] };
  },
});

interface CaseStore {
  get(id: string): Promise<PackedCase | Case | undefined>;
  put(one: PackedCase): Promise<string>;
}

const PORTION = 50;
const STAMPS = ["casesStamp", "tradeStamp", "reasonStamp"] as const;
type Stamp = (typeof STAMPS)[number];

/** Marks that the store beside it changed, in the same transaction. */
const stamp = (meta: { put(value: unknown, key: string): Promise<string> }, which: Stamp): Promise<string> =>
  meta.put(newId(), which);

/** Beside what came, so that neither is without the other. */
async function tagged(meta: { get(key: string): Promise<unknown>; put(value: unknown, key: string): Promise<string> }, path: string, etag: string | null): Promise<void> {
  await meta.put({ ...((await meta.get("tags")) as Meta["tags"] | undefined), [path]: etag }, "tags");
}

async function putNewer(cases: CaseStore, fresh: Case): Promise<void> {
  const known = await cases.get(fresh.id);
  if (!known || unpackedCase(known).revision <= fresh.revision) await cases.put(packedCase(fresh));
}

const casesOf = (db: IDBPDatabase<Schema>) => ({
  /** Read in portions of one transaction: a whole shop at once would hold the page of a slow phone. */
  async cases(): Promise<readonly Case[]> {
    const { store } = db.transaction("cases");
    const all: Case[] = [];
    let part = await store.getAll(null, PORTION);
    while (part.length > 0) {
      all.push(...part.map(unpackedCase));
      const last = part.length === PORTION ? part.at(-1) : undefined;
      part = last ? await store.getAll(IDBKeyRange.lowerBound(last.id, true), PORTION) : [];
    }
    return all;
  },
  case: async (id: string): Promise<Case | null> => {
    const found = await db.get("cases", id);
    return found ? unpackedCase(found) : null;
  },
  /** Keeps the case unless a newer revision of it is here already. */
  putCase: (fresh: Case): Promise<void> =>
    inWork(db, ["cases", "meta"], async (work) => {
      await putNewer(work.objectStore("cases"), fresh);
      await stamp(work.objectStore("meta"), "casesStamp");
    }),
  casesHeld: (): Promise<number> => db.count("cases"),
  /** Leaves these cases to the service. */
  leaveOut: (ids: readonly string[]): Promise<void> =>
    inWork(db, ["cases", "meta"], async (work) => {
      const meta = work.objectStore("meta");
      await Promise.all(ids.map((id) => work.objectStore("cases").delete(id)));
      await meta.put((((await meta.get("leftOut")) as number | undefined) ?? 0) + ids.length, "leftOut");
      await stamp(meta, "casesStamp");
    }),
  /** Before the log is read again from its start. */
  restartCases: (): Promise<void> =>
    inWork(db, ["cases", "meta"], async (work) => {
      await work.objectStore("cases").clear();
      await work.objectStore("meta").delete("cursor");
      await work.objectStore("meta").delete("leftOut");
      await stamp(work.objectStore("meta"), "casesStamp");
    }),
  /** One page of the change log and the place to go on from: both or neither. */
  applyChanges: (changes: readonly Change[], next: number): Promise<void> =>
    inWork(db, ["cases", "meta"], async (work) => {
      const cases = work.objectStore("cases");
      for (const change of changes.filter((one) => one.kind === "case")) {
        if (change.op === "delete") await cases.delete(change.id);
        else if (change.case) await putNewer(cases, change.case);
      }
      await work.objectStore("meta").put(next, "cursor");
      if (changes.length) await stamp(work.objectStore("meta"), "casesStamp");
    }),
});

const tradeOf = (db: IDBPDatabase<Schema>) => ({
  putTradeList: (stored: StoredList): Promise<void> =>
    inWork(db, ["trade", "meta"], async (work) => {
      await work.objectStore("trade").put(stored);
      await tagged(work.objectStore("meta"), `/trade/${stored.list}`, stored.etag);
      await stamp(work.objectStore("meta"), "tradeStamp");
    }),
  /** List by list, each a task of its own: all at once would hold the page of a slow phone. */
  async trade(): Promise<Trade> {
    const { store } = db.transaction("trade");
    const stored = await Promise.all(TRADE_LISTS.map((list) => store.get(list)));
    return { ...EMPTY_TRADE, ...Object.fromEntries(stored.flatMap((one) => (one ? [[one.list, one.items]] : []))) };
  },
});

const reasoningOf = (db: IDBPDatabase<Schema>) => ({
  reasoning: async <K extends ReasoningPart>(part: K): Promise<StoredPart<K> | null> =>
    ((await db.get("reasoning", part)) as StoredPart<K> | undefined) ?? null,
  putReasoning: (stored: StoredPart): Promise<void> =>
    inWork(db, ["reasoning", "meta"], async (work) => {
      await work.objectStore("reasoning").put(stored);
      await tagged(work.objectStore("meta"), `/reasoning/${stored.part}`, stored.etag);
      await stamp(work.objectStore("meta"), "reasonStamp");
    }),
  packets: (): Promise<readonly Packet[]> => db.getAll("texts"),
  keepPacket: async (packet: Packet): Promise<void> => void (await db.add("texts", packet)),
  dropPackets: (): Promise<void> => db.clear("texts"),
});

const draftsOf = (db: IDBPDatabase<Schema>) => ({
  drafts: (): Promise<readonly Draft[]> => db.getAll("drafts"),
  async putDraft(draft: Draft): Promise<void> {
    await db.put("drafts", draft);
  },
  async dropDraft(id: string): Promise<void> {
    await db.delete("drafts", id);
  },
});

const outboxOf = (db: IDBPDatabase<Schema>) => ({
  /** Oldest first. */
  outbox: async (): Promise<readonly Entry[]> => (await db.getAll("outbox")) as Entry[],
  unsent: (): Promise<number> => db.count("outbox"),
  /** Keeps the acts, the pictures they carry, and drops the draft they came from: all or nothing. */
  enqueue: (
    entries: readonly NewEntry[],
    { photo, draft }: { photo?: StoredPhoto; draft?: string } = {},
  ): Promise<void> =>
    inWork(db, ["outbox", "photos", "drafts"], async (work) => {
      for (const entry of entries) await work.objectStore("outbox").add(entry);
      if (photo) await work.objectStore("photos").put(photo);
      if (draft) await work.objectStore("drafts").delete(draft);
    }),
  /** Keeps a changed entry, if it is still there. */
  putEntry: (entry: Entry): Promise<void> =>
    inWork(db, ["outbox"], async (work) => {
      const outbox = work.objectStore("outbox");
      if (await outbox.get(entry.seq)) await outbox.put(entry);
    }),
  /** The service has it: the entry and its picture go, the service's copy of the case comes, together. */
  settle: (entry: Entry, { put, drop }: { put?: Case | null; drop?: string } = {}): Promise<void> =>
    inWork(db, ["outbox", "photos", "cases", "meta"], async (work) => {
      await work.objectStore("outbox").delete(entry.seq);
      if (entry.act.do === "photo") await work.objectStore("photos").delete(entry.act.photo.id);
      if (put) await putNewer(work.objectStore("cases"), put);
      if (drop) await work.objectStore("cases").delete(drop);
      if (put || drop) await stamp(work.objectStore("meta"), "casesStamp");
    }),
});

const photosOf = (db: IDBPDatabase<Schema>) => ({
  photo: async (id: string): Promise<StoredPhoto | null> => (await db.get("photos", id)) ?? null,
});

const SHOPS_OWN = ["cases", "trade", "reasoning", "texts"] as const;
const MEMBERS_OWN = ["drafts", "outbox", "photos"] as const;

const cleared = (db: IDBPDatabase<Schema>, stores: readonly StoreNames<Schema>[]): Promise<void> =>
  inWork(db, stores, (work) => Promise.all(stores.map((store) => work.objectStore(store).clear())));

const leavingOf = (db: IDBPDatabase<Schema>) => ({
  /** Token and member together, and nothing of an earlier shop; unsent acts stay with their owner. */
  signIn: (token: string, me: Me): Promise<void> =>
    inWork(db, ["meta", ...SHOPS_OWN], async (work) => {
      await Promise.all(["meta" as const, ...SHOPS_OWN].map((store) => work.objectStore(store).clear()));
      await work.objectStore("meta").put(token, "token");
      await work.objectStore("meta").put(me, "me");
    }),
  /** Signed out by choice: nothing stays. */
  wipe: (): Promise<void> => cleared(db, ["meta", ...SHOPS_OWN, ...MEMBERS_OWN]),
  /**
   * The service no longer knows this device: the shop's data goes, what was never sent stays for
   * its member's next sign-in.
   */
  forgetShop: (): Promise<void> => cleared(db, ["meta", ...SHOPS_OWN]),
  /** What a locked-out phone still held: the acts never sent, their pictures, the questions. */
  forgetUnsent: (): Promise<void> => cleared(db, MEMBERS_OWN),
});
