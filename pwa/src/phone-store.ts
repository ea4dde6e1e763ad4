/** The signals the page shows, kept in step with the phone's own store. */

import { batch, computed, signal } from "@preact/signals";
import type { Db } from "./db";
import type { Draft } from "./model/draft";
import { localCases } from "./model/local-case";
import { ownedBy } from "./model/outbox";
import type { Entry, Owner } from "./model/outbox";
import { FIRST_STATE } from "./model/sync-state";
import type { SyncState } from "./model/sync-state";
import type { Case, Me, Trade } from "./wire";
import { EMPTY_TRADE } from "./wire";

export type Shown = ReturnType<typeof createShown>;

const newestFirst = (a: Draft, b: Draft): number => (a.changed < b.changed ? 1 : -1);

export const ownerOf = (me: Me | null): Owner | null => me && { shop: me.shop.id, member: me.member.id };

export function createShown() {
  const me = signal<Me | null>(null);
  const stored = signal<readonly Case[]>([]);
  const outbox = signal<readonly Entry[]>([]);
  const state = signal<SyncState>(FIRST_STATE);
  const own = computed(() => outbox.value.filter((entry) => ownedBy(entry, ownerOf(me.value))));
  return {
    me,
    stored,
    outbox,
    state,
    ready: signal(false),
    trade: signal<Trade>(EMPTY_TRADE),
    drafts: signal<readonly Draft[]>([]),
    newVersion: signal(false),
    outdated: signal(false),
    kept: signal<boolean | null>(null),
    cases: computed(() => localCases(stored.value, own.value, me.value?.member.name ?? null)),
    sync: computed<SyncState>(() => ({
      ...state.value,
      unsent: outbox.value.length,
      parked: outbox.value.filter((entry) => entry.state === "parked").length,
    })),
  };
}

/** The fresh cases, with the old object where the revision is the same: what was made from it stays good. */
function sharing(fresh: readonly Case[], old: readonly Case[]): readonly Case[] {
  const known = new Map(old.map((one) => [one.id, one]));
  return fresh.map((one) => (known.get(one.id)?.revision === one.revision ? (known.get(one.id) ?? one) : one));
}

/** Reads the store into the signals; calls while one read runs lead to one more. */
export function createRefresh(db: () => Db, shown: Shown): () => Promise<void> {
  let running: Promise<void> | null = null;
  let again = false;

  /** The stamps of what the signals hold. */
  let seen: { cases: string | null; trade: string | null } | null = null;

  async function readAll(): Promise<void> {
    const store = db();
    const [outbox, drafts, me, cases, trade] = await Promise.all([
      store.outbox(),
      store.drafts(),
      store.meta("me"),
      store.meta("casesStamp"),
      store.meta("tradeStamp"),
    ]);
    const stored = seen?.cases === cases ? shown.stored.peek() : sharing(await store.cases(), shown.stored.peek());
    const lists = seen?.trade === trade ? shown.trade.peek() : await store.trade();
    seen = { cases, trade };
    batch(() => {
      shown.stored.value = stored;
      shown.outbox.value = outbox;
      shown.drafts.value = [...drafts].sort(newestFirst);
      shown.trade.value = lists;
      shown.me.value = me;
    });
  }

  async function loop(): Promise<void> {
    try {
      do {
        again = false;
        await readAll();
      } while (again);
    } finally {
      running = null;
    }
  }

  return () => {
    again = running !== null;
    running ??= loop();
    return running;
  };
}
