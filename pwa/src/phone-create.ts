/** Puts store, network and sync together behind the facade. */

import { openDb } from "./db";
import type { Db } from "./db";
import { webLocks } from "./locks";
import type { Locks } from "./locks";
import type { Owner } from "./model/outbox";
import { FORMAT, createNet } from "./net";
import type { Net } from "./net";
import { caseActs } from "./phone-acts";
import { asking } from "./phone-ask";
import { lateOffice, photoOf } from "./phone-online";
import { outboxActs } from "./phone-outbox";
import { Session } from "./phone-session";
import { createRefresh, createShown } from "./phone-store";
import type { Shown } from "./phone-store";
import type { Phone } from "./phone-types";
import { keepStorage, storageUse } from "./storage";
import { Sync } from "./sync";
import { registerWorker } from "./update";

/** What the acts work with. */
export interface Hands {
  readonly db: () => Db;
  /** The store's name, for tests. */
  readonly dbName: string | undefined;
  readonly net: Net;
  readonly shown: Shown;
  readonly owner: () => Owner | null;
  readonly now: () => Date;
  /** Reads the store into the signals, here and in other tabs. */
  readonly changed: () => Promise<void>;
  /** Starts sending, and does not wait for it. */
  readonly send: () => void;
}

interface PhoneOptions {
  readonly fetch?: typeof fetch;
  readonly locks?: Locks;
  readonly now?: () => Date;
  readonly dbName?: string;
  /** The form it writes in, for tests. */
  readonly format?: number;
}

/** What the start needs comes first. */
const READY_AFTER_MS = 6_000;

export function createPhone(options: PhoneOptions = {}): Phone {
  const core = new Core(options);
  const { hands, session, shown } = core;
  return {
    ...shown,
    ...caseActs(hands),
    ...asking(hands),
    ...outboxActs(hands),
    ...lateOffice(hands),
    copyFacts: async () => ({ ...(await storageUse()), leftOut: (await hands.db().meta("leftOut")) ?? 0 }),
    photo: (caseId, photoId) => photoOf(hands, caseId, photoId),
    unsentFile: async () => (await import("./phone-unsent")).unsentFile(hands.db(), hands.now()),
    letGoUnsent: () => session.letGoUnsent(),
    start: () => core.start(),
    stop: () => core.stop(),
    join: (code, name) => session.join(code, name),
    signOut: ({ discardUnsent = false } = {}) => session.signOut(discardUnsent),
    syncNow: () => core.sync().run(),
    takeNewVersion: () => core.takeNewVersion(),
  };
}

/** The parts that live as long as the page, and their order of waking. */
class Core {
  readonly shown = createShown();
  readonly session: Session;
  readonly hands: Hands;
  takeNewVersion = async (): Promise<void> => location.reload();
  private store: Db | null = null;
  private made: Sync | null = null;
  private readonly tabs = typeof BroadcastChannel === "function" ? new BroadcastChannel("baylore") : null;
  private readonly refresh = createRefresh(() => this.db(), this.shown);

  constructor(private readonly options: PhoneOptions) {
    const db = (): Db => this.db();
    const changed = async (): Promise<void> => {
      this.tabs?.postMessage("changed");
      await this.refresh();
    };
    const send = (): void => void this.sync().run();
    const { format = FORMAT } = options;
    const least = (wanted: number): void => void (this.shown.outdated.value = wanted > format);
    const net = createNet({ token: () => this.session.token(), format, least, ...(options.fetch && { fetch: options.fetch }) });
    this.session = new Session({ db, net: () => net, shown: this.shown, changed, send });
    const now = options.now ?? (() => new Date());
    this.hands = { db, dbName: options.dbName, net, shown: this.shown, owner: () => this.session.owner(), now, changed, send };
  }

  async start(): Promise<void> {
    await this.open();
    this.tabs?.addEventListener("message", () => void this.otherTab());
    this.sync().start();
    this.shown.kept.value = await keepStorage();
    if (typeof Worker === "function") setTimeout(() => void this.ready(), READY_AFTER_MS);
    this.takeNewVersion = await registerWorker(() => (this.shown.newVersion.value = true));
  }

  /** So that the first question without signal need not wait for the copy to be read. */
  private async ready(): Promise<void> {
    if (this.store && this.session.token()) await (await import("./phone-local")).makeReady(this.hands);
  }

  async stop(): Promise<void> {
    if (!this.store) return;
    await this.sync().stop();
    await this.refresh();
    this.tabs?.close();
    this.store.close();
    this.store = null;
  }

  /** Made at first use, for the store it works on must be open. */
  sync(): Sync {
    const { shown } = this;
    this.made ??= new Sync({
      ...this.hands,
      db: this.db(),
      changed: () => void this.hands.changed(),
      outdated: () => shown.outdated.peek(),
      locks: this.options.locks ?? webLocks(),
      emit: (change) => (shown.state.value = { ...shown.state.peek(), ...change }),
      signedOut: () => this.session.lost(),
      renew: (at) => this.session.renew(at),
    });
    return this.made;
  }

  private db(): Db {
    if (!this.store) throw new Error("the phone's store is not open yet; call start() first");
    return this.store;
  }

  private async open(): Promise<void> {
    const { dbName: name } = this.options;
    this.store ??= await openDb({ ...(name && { name }), leaving: () => window.dispatchEvent(new Event("leaving")), lost: () => location.reload() });
    await this.otherTab();
    const lastSync = await this.store.meta("lastSync");
    const link = this.session.token() ? "unknown" : "signed out";
    this.shown.state.value = { ...this.shown.state.peek(), lastSync, link };
    this.shown.ready.value = true;
  }

  private async otherTab(): Promise<void> {
    await this.session.recall();
    await this.refresh();
  }
}
