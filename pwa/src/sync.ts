/** When to send and fetch: at start, after a save, back online, back on screen, by timer, by hand. */

import type { Locks } from "./locks";
import type { SyncState } from "./model/sync-state";
import type { Stop } from "./sync-drain";
import type { RoundParts } from "./sync-round";
import { t } from "./texts";

interface SyncParts extends RoundParts {
  readonly locks: Locks;
  readonly emit: (change: Partial<SyncState>) => void;
  /** The service does not know this device any more. */
  readonly signedOut: () => Promise<void>;
}

const CALM_MS = 120_000;
const FIRST_RETRY_MS = 5_000;
const LAST_RETRY_MS = 300_000;

/** How long to wait for the next round; longer with each failure in a row, and as long as the service asks. */
export function waitMs(stop: Stop, failures: number): number {
  if (stop.kind !== "unreachable") return CALM_MS;
  const retry = Math.min(LAST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(Math.max(0, failures - 1), 10));
  return Math.max(retry, (stop.waitS ?? 0) * 1000);
}

export class Sync {
  private made: Promise<() => Promise<Stop>> | null = null;
  private running: Promise<void> | null = null;
  private again = false;
  private signalBack = false;
  private started = false;
  private failures = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly parts: SyncParts) {}

  /** Its code comes after the first screen; where that cannot be had, neither can the service. */
  private readonly round = async (): Promise<Stop> => {
    this.made ??= import("./sync-round").then(({ createRound }) => createRound(this.parts));
    const round = await this.made.catch(() => (this.made = null));
    return round ? round() : { kind: "unreachable", why: t().net.noConnection, waitS: null };
  };

  /** Sends and fetches everything; calls while one runs lead to one more round. */
  run(): Promise<void> {
    this.again = this.running !== null;
    this.running ??= this.loop();
    return this.running;
  }

  start(): void {
    this.started = true;
    window.addEventListener("online", this.onOnline);
    window.addEventListener("offline", this.onOffline);
    document.addEventListener("visibilitychange", this.onVisible);
    void this.run();
  }

  /** Ends the triggers; done when nothing runs any more. */
  async stop(): Promise<void> {
    [this.started, this.again] = [false, false];
    clearTimeout(this.timer);
    window.removeEventListener("online", this.onOnline);
    window.removeEventListener("offline", this.onOffline);
    document.removeEventListener("visibilitychange", this.onVisible);
    await this.running;
  }

  /** A round that is still failing for want of signal must not make it wait as long as after many failures. */
  private readonly onOnline = (): void => {
    [this.signalBack, this.failures] = [this.running !== null, 0];
    void this.run();
  };
  private readonly onOffline = (): void => this.parts.emit({ link: "offline" });
  private readonly onVisible = (): void => {
    if (document.visibilityState === "visible") void this.run();
  };

  private async loop(): Promise<void> {
    const { emit, locks } = this.parts;
    emit({ busy: true });
    try {
      let stop: Stop;
      do {
        [this.again, this.signalBack] = [false, false];
        stop = await locks.request("baylore-sync", this.round);
        await this.tell(stop);
      } while (this.signalBack || (this.again && stop.kind === "done"));
      this.plan(stop);
    } finally {
      this.running = null;
      emit({ busy: false });
    }
  }

  private async tell(stop: Stop): Promise<void> {
    const { db, emit, now, owner, signedOut } = this.parts;
    this.failures = stop.kind === "unreachable" ? this.failures + 1 : 0;
    if (stop.kind === "unreachable") return emit({ link: "offline", trouble: stop.why });
    if (stop.kind === "signed_out") {
      if (owner()) await signedOut();
      return emit({ link: "signed out", trouble: "" });
    }
    const lastSync = now().toISOString();
    await db.setMeta("lastSync", lastSync);
    emit({ link: "online", trouble: "", lastSync });
  }

  private plan(stop: Stop): void {
    clearTimeout(this.timer);
    if (!this.started || stop.kind === "signed_out") return;
    this.timer = setTimeout(() => void this.run(), waitMs(stop, this.failures));
  }
}
