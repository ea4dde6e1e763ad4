/** One round with the service: send, fetch, and now and then what seldom changes. */

import type { Owner } from "./model/outbox";
import { drain } from "./sync-drain";
import type { Stop, Ways } from "./sync-drain";
import { inTurn, pull, pullMe, pullReasoning, pullTrade, spared } from "./sync-pull";
import { WireError } from "./wire";
import { t } from "./texts";

export interface RoundParts extends Ways {
  readonly now: () => Date;
  /** Who is signed in; null when nobody is. */
  readonly owner: () => Owner | null;
  /** Takes a new token where this phone's has grown old. */
  readonly renew?: (now: Date) => Promise<void>;
  /** Whether the service would misread what this version of the app sends. */
  readonly outdated: () => boolean;
}

const DONE: Stop = { kind: "done" };
const HOUR_MS = 3_600_000;

/** Each part stops the round when the service cannot be reached or does not know the device. */
export function createRound(parts: RoundParts): () => Promise<Stop> {
  let met: string | null = null;
  const fetched = new Map<(ways: Ways) => Promise<Stop>, number>();

  async function meet(owner: Owner): Promise<Stop> {
    const who = `${owner.shop} ${owner.member}`;
    if (met === who) return DONE;
    const stop = await pullMe(parts);
    if (stop.kind === "done") {
      met = who;
      fetched.clear();
    }
    return stop;
  }

  async function hourly(renew: (ways: Ways) => Promise<Stop>): Promise<Stop> {
    const now = parts.now().getTime();
    if (now - (fetched.get(renew) ?? 0) < HOUR_MS) return DONE;
    const stop = await renew(parts);
    if (stop.kind === "done") fetched.set(renew, now);
    return stop;
  }

  /** Told by its first refusal too, which is no reason not to fetch. */
  async function drainUnlessOutdated(owner: Owner): Promise<Stop> {
    if (parts.outdated()) return DONE;
    const stop = await drain(parts, owner);
    return parts.outdated() ? DONE : stop;
  }

  return async () => {
    const owner = parts.owner();
    if (!owner) return { kind: "signed_out" };
    try {
      const stop = await inTurn([
        () => drainUnlessOutdated(owner),
        () => pull(parts),
        () => meet(owner),
        () => hourly(pullTrade),
        async () => spared(await hourly(pullReasoning)),
      ]);
      if (stop.kind === "done") await parts.renew?.(parts.now());
      return stop;
    } catch (error) {
      if (!(error instanceof WireError)) throw error;
      return { kind: "unreachable", why: t().net.cannotRead(error.message), waitS: null };
    }
  };
}
