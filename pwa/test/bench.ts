/** A phone's store, net and sync on a fake service, without a page around them. */

import "fake-indexeddb/auto";
import { openDb } from "../src/db";
import type { Db } from "../src/db";
import { newEntry } from "../src/model/outbox";
import type { Act, Owner } from "../src/model/outbox";
import type { SyncState } from "../src/model/sync-state";
import { createNet } from "../src/net";
import { webLocks } from "../src/locks";
import type { Locks } from "../src/locks";
import { Sync } from "../src/sync";
import { parseCase, read } from "../src/wire";
import type { Case } from "../src/wire";
import { FakeService, ME } from "./fake-service";

export const OWNER: Owner = { shop: ME.shop.id, member: ME.member.id };
export const NOW = new Date("2026-03-11T09:20:00Z");

let made = 0;
export const freshName = (): string => `test-${(made += 1)}`;

export interface Bench {
  readonly service: FakeService;
  readonly db: Db;
  readonly states: Partial<SyncState>[];
  run(): Promise<void>;
  save(caseId: string, act: Act, key?: string): Promise<void>;
  /** The page dies and is opened again: same store, same service, nothing else left. */
  restart(): Promise<Bench>;
}

interface Parts {
  readonly service?: FakeService;
  readonly name?: string;
  readonly locks?: Locks;
}

export async function bench({
  service = new FakeService(),
  name = freshName(),
  locks = webLocks(),
}: Parts = {}): Promise<Bench> {
  const db = await openDb({ name });
  const states: Partial<SyncState>[] = [];
  let signedIn = true;
  const net = createNet({
    token: () => (signedIn ? "good" : null),
    fetch: service.fetch as typeof fetch,
    limitMs: 1000,
  });
  const sync = new Sync({
    db,
    net,
    locks,
    now: () => NOW,
    owner: () => (signedIn ? OWNER : null),
    outdated: () => false,
    changed: () => {},
    emit: (change) => states.push(change),
    signedOut: async () => {
      signedIn = false;
      await db.forgetShop();
    },
  });
  return {
    service,
    db,
    states,
    run: () => sync.run(),
    save: (caseId, act, key = crypto.randomUUID()) =>
      db.enqueue([newEntry(caseId, act, { key, owner: OWNER, now: NOW })]),
    async restart() {
      db.close();
      return bench({ service, name, locks });
    },
  };
}

export const aCase = (given: object = {}): Case =>
  read(parseCase, { id: "c1", state: "open", revision: 1, complaint: "cranks slow when hot", ...given });

export const openAct = (id: string, complaint = "cranks slow when hot"): Act => ({
  do: "open",
  body: { id, complaint },
});
export const testAct = (id: string): Act => ({
  do: "test",
  body: { id, test: "batt_rest_check", outcome: "ok", minutes: 4 },
});
export const readingAct = (id: string): Act => ({
  do: "reading",
  body: { id, quantity: "batt_rest", value: 12.1, unit: "volt" },
});
