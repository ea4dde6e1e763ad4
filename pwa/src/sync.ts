/** When to send and fetch: at start, after a save, back online, back on screen, by timer, by hand. */

import { FIRST_STATE } from "./model/sync-state";
import type { SyncState } from "./model/sync-state";
import type { Owner } from "./model/outbox";
import { drain } from "./sync-drain";
import type { Stop, Ways } from "./sync-drain";
import { pull, pullMe, pullTrade } from "./sync-pull";
import { WireError } from "./wire";

/** The part of navigator.locks that is used: one holder of a name at a time. */
export interface Locks {
  request<T>(name: string, act: () => Promise<T>): Promise<T>;
}

export interface SyncParts extends Ways {
  readonly locks: Locks;
  readonly now: () => Date;
  /** Who is signed in; null when nobody is. */
  readonly owner: () => Owner | null;
  readonly emit: (change: Partial<SyncState>) => void;
  /** The service does not know this device any more. */
  readonly signedOut: () => Promise<void>;
}

export interface Sync {
  /** Sends and fetches everything; calls while one runs lead to one more run. */
  run(): Promise<void>;
  start(): void;
  /** Ends the triggers; done when nothing runs any more. */
  stop(): Promise<void>;
}

const CALM_MS = 120_000;
const FIRST_RETRY_MS = 5_000;
const LAST_RETRY_MS = 300_000;
const TRADE_EVERY_MS = 3_600_000;

/** Tabs of one browser send one at a time; without Web Locks (no certificate) at least this page does. */
export function webLocks(): Locks {
  if (globalThis.navigator?.locks) return { request: async (name, act) => navigator.locks.request(name, act) };
  let last: Promise<unknown> = Promise.resolve();
  return {
    request<T>(_name: string, act: () => Promise<T>): Promise<T> {
      const turn = last.then(act, act);
      last = turn.catch(() => undefined);
      return turn;
    },
  };
}

export function createSync(parts: SyncParts): Sync {
  let running: Promise<void> | null = null;
  let again = false;
  let failures = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let started = false;
  let tradeAt = 0;
  let greeted = false;

  async function once(): Promise<Stop> {
    const owner = parts.owner();
    if (!owner) return { kind: "signed_out" };
    const sent = await drain(parts, owner);
    if (sent.kind !== "done") return sent;
    const fetched = await pull(parts);
    if (fetched.kind !== "done") return fetched;
    return extras();
  }

  /** What need not be asked at every run. */
  async function extras(): Promise<Stop> {
    if (!greeted) {
      const met = await pullMe(parts);
      if (met.kind !== "done") return met;
      greeted = true;
    }
    const now = parts.now().getTime();
    if (now - tradeAt < TRADE_EVERY_MS) return { kind: "done" };
    const fetched = await pullTrade(parts);
    if (fetched.kind === "done") tradeAt = now;
    return fetched;
  }

  async function settle(stop: Stop): Promise<void> {
    failures = stop.kind === "unreachable" ? failures + 1 : 0;
    if (stop.kind === "signed_out") {
      greeted = false;
      tradeAt = 0;
      if (parts.owner()) await parts.signedOut();
      parts.emit({ link: "signed out", trouble: "" });
      return;
    }
    if (stop.kind === "unreachable") {
      parts.emit({ link: "offline", trouble: stop.why });
      return;
    }
    const lastSync = parts.now().toISOString();
    await parts.db.setMeta("lastSync", lastSync);
    parts.emit({ link: "online", trouble: "", lastSync });
  }

  async function guarded(): Promise<Stop> {
    try {
      return await parts.locks.request("baylore-sync", once);
    } catch (error) {
      if (error instanceof WireError) return { kind: "unreachable", why: `cannot read the service's answer: ${error.message}`, waitS: null };
      throw error;
    }
  }

  async function loop(): Promise<void> {
    parts.emit({ busy: true });
    try {
      let stop: Stop;
      do {
        again = false;
        stop = await guarded();
        await settle(stop);
      } while (again && stop.kind === "done");
      plan(stop);
    } finally {
      running = null;
      parts.emit({ busy: false });
    }
  }

  function plan(stop: Stop): void {
    clearTimeout(timer);
    if (!started || stop.kind === "signed_out") return;
    const retry = Math.min(LAST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(failures - 1, 10));
    const asked = stop.kind === "unreachable" && stop.waitS !== null ? stop.waitS * 1000 : 0;
    timer = setTimeout(() => void run(), stop.kind === "done" ? CALM_MS : Math.max(retry, asked));
  }

  function run(): Promise<void> {
    again = running !== null;
    running ??= loop();
    return running;
  }

  const onOnline = (): void => void run();
  const onOffline = (): void => parts.emit({ link: "offline" });
  const onVisible = (): void => {
    if (document.visibilityState === "visible") void run();
  };

  return {
    run,
    start() {
      started = true;
      window.addEventListener("online", onOnline);
      window.addEventListener("offline", onOffline);
      document.addEventListener("visibilitychange", onVisible);
      void run();
    },
    async stop() {
      started = false;
      again = false;
      clearTimeout(timer);
      window.removeEventListener("online", onOnline);
      window.removeEventListener("offline", onOffline);
      document.removeEventListener("visibilitychange", onVisible);
      await running;
    },
  };
}

export { FIRST_STATE };
