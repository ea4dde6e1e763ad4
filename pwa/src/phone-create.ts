/** Puts store, network and sync together behind the facade. */

import { openDb, keepStorage } from "./db";
import type { Db } from "./db";
import type { Owner } from "./model/outbox";
import { createNet } from "./net";
import type { Net } from "./net";
import { caseActs } from "./phone-acts";
import { asking } from "./phone-ask";
import { fetched, fetchedBlob, onlineReads } from "./phone-online";
import { outboxActs } from "./phone-outbox";
import { createRefresh, createShown, ownerOf } from "./phone-store";
import type { Shown } from "./phone-store";
import type { Online, Phone } from "./phone-types";
import { createSync, webLocks } from "./sync";
import type { Locks, Sync } from "./sync";
import { registerWorker } from "./update";
import * as wire from "./wire";

/** What the acts work with. */
export interface Hands {
  readonly db: () => Db;
  readonly net: Net;
  readonly shown: Shown;
  readonly owner: () => Owner | null;
  readonly now: () => Date;
  /** Reads the store into the signals, here and in other tabs. */
  readonly changed: () => Promise<void>;
  /** Starts sending, and does not wait for it. */
  readonly send: () => void;
}

export interface PhoneOptions {
  readonly fetch?: typeof fetch;
  readonly locks?: Locks;
  readonly now?: () => Date;
  readonly dbName?: string;
}

export function createPhone(options: PhoneOptions = {}): Phone {
  const shown = createShown();
  const now = options.now ?? (() => new Date());
  const tabs = typeof BroadcastChannel === "function" ? new BroadcastChannel("baylore") : null;
  let opened: Db | null = null;
  let token: string | null = null;
  let takeNewVersion = (): void => location.reload();

  const db = (): Db => {
    if (!opened) throw new Error("the phone's store is not open yet; call start() first");
    return opened;
  };
  const refresh = createRefresh(db, shown);
  const changed = async (): Promise<void> => {
    tabs?.postMessage("changed");
    await refresh();
  };
  const net = createNet({ token: () => token, ...(options.fetch && { fetch: options.fetch }) });
  const owner = (): Owner | null => (token === null ? null : ownerOf(shown.me.peek()));
  const forget = async (everything: boolean): Promise<void> => {
    token = null;
    await (everything ? db().wipe() : db().forgetShop());
    await changed();
  };
  const sync = lateSync(() =>
    createSync({
      db: db(),
      net,
      now,
      owner,
      locks: options.locks ?? webLocks(),
      changed: () => void changed(),
      emit: (change) => (shown.state.value = { ...shown.state.peek(), ...change }),
      signedOut: () => forget(false),
    }),
  );
  const hands: Hands = { db, net, shown, owner, now, changed, send: () => void sync().run() };

  async function open(): Promise<void> {
    opened ??= await openDb({ ...(options.dbName && { name: options.dbName }), lost: () => location.reload() });
    token = await db().meta("token");
    await refresh();
    const lastSync = await db().meta("lastSync");
    shown.state.value = { ...shown.state.peek(), lastSync, link: token ? "unknown" : "signed out" };
    shown.ready.value = true;
  }

  async function heardFromOtherTab(): Promise<void> {
    token = await db().meta("token");
    await refresh();
  }

  async function join(code: string, name: string): Promise<Online<wire.Me>> {
    const answer = await fetched(net, { method: "POST", path: "/devices", body: { code, name } }, wire.parseJoined);
    if (answer.kind !== "ok") return answer;
    const { token: fresh, ...rest } = answer.value;
    const me: wire.Me = { ...rest, revision: 0 };
    await db().signIn(fresh, me);
    token = fresh;
    await changed();
    hands.send();
    return { kind: "ok", value: me };
  }

  async function signOut({ discardUnsent = false } = {}): Promise<boolean> {
    if ((await db().unsent()) > 0 && !discardUnsent) return false;
    const device = shown.me.peek()?.device.id;
    if (device) await net.call({ method: "DELETE", path: `/devices/${encodeURIComponent(device)}` });
    await forget(true);
    shown.state.value = { ...shown.state.peek(), link: "signed out", lastSync: null, trouble: "" };
    return true;
  }

  return {
    ...shown,
    ...caseActs(hands),
    ...asking(hands),
    ...outboxActs(hands),
    ...onlineReads(net),
    async start() {
      await open();
      tabs?.addEventListener("message", () => void heardFromOtherTab());
      sync().start();
      shown.kept.value = await keepStorage();
      takeNewVersion = await registerWorker(() => (shown.newVersion.value = true));
    },
    async stop() {
      if (!opened) return;
      await sync().stop();
      await refresh();
      tabs?.close();
      opened.close();
      opened = null;
    },
    join,
    signOut,
    async photo(caseId, photoId) {
      const here = await db().photo(photoId);
      if (here) return { kind: "ok", value: new Blob([here.data], { type: here.type }) };
      return fetchedBlob(net, `/cases/${encodeURIComponent(caseId)}/photos/${encodeURIComponent(photoId)}`);
    },
    async amendShop(change) {
      const answer = await fetched(net, { method: "PATCH", path: "/shop", body: change }, wire.parseShop);
      const me = shown.me.peek();
      if (answer.kind === "ok" && me) await db().setMeta("me", { ...me, shop: answer.value });
      await changed();
      return answer;
    },
    syncNow: () => sync().run(),
    takeNewVersion: () => takeNewVersion(),
  };
}

/** Made at first use: the store it works on opens later than the facade is put together. */
function lateSync(make: () => Sync): () => Sync {
  let made: Sync | null = null;
  return () => (made ??= make());
}
