/** One round with the service: send, fetch, and now and then what seldom changes. */

import { APP } from "./build";
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

  async function meet(owner: Owner): Promise<Stop> {
    const who = `${owner.shop} ${owner.member}`;
    if (met === who) return DONE;
    const stop = await pullMe(parts);
    if (stop.kind === "done") met = who;
    return stop;
  }

  /** Newer lists once an hour, however often the app is opened: a change of the shop's own comes by the log. */
  async function lists(): Promise<Stop> {
    const { db, now } = parts;
    const asked = await db.meta("listsAsked");
    if (asked?.build === APP.build && Math.abs(now().getTime() - Date.parse(asked.at)) < HOUR_MS) return DONE;
    const stop = await pullTrade(parts);
    if (stop.kind !== "done") return stop;
    const more = await pullReasoning(parts);
    if (more.kind === "done") await db.setMeta("listsAsked", { at: now().toISOString(), build: APP.build });
    return spared(more);
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
        lists,
      ]);
      if (stop.kind === "done") await parts.renew?.(parts.now());
      return stop;
    } catch (error) {
      if (!(error instanceof WireError)) throw error;
      return { kind: "unreachable", why: t().net.cannotRead(error.message), waitS: null };
    }
  };
}
