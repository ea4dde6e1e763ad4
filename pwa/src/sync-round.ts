/** One round with the service: send, fetch, and now and then what seldom changes. */

import type { Owner } from "./model/outbox";
import { drain } from "./sync-drain";
import type { Stop, Ways } from "./sync-drain";
import { pull, pullMe, pullReasoning, pullTrade } from "./sync-pull";
import { WireError } from "./wire";
import { t } from "./texts";

export interface RoundParts extends Ways {
  readonly now: () => Date;
  /** Who is signed in; null when nobody is. */
  readonly owner: () => Owner | null;
}

const DONE: Stop = { kind: "done" };
const TRADE_EVERY_MS = 3_600_000;

/** Each part stops the round when the service cannot be reached or does not know the device. */
export function createRound(parts: RoundParts): () => Promise<Stop> {
  let met: string | null = null;
  let [tradeAt, reasoningAt] = [0, 0];

  async function meet(owner: Owner): Promise<Stop> {
    const who = `${owner.shop} ${owner.member}`;
    if (met === who) return DONE;
    const stop = await pullMe(parts);
    if (stop.kind === "done") [met, tradeAt, reasoningAt] = [who, 0, 0];
    return stop;
  }

  async function lists(): Promise<Stop> {
    const now = parts.now().getTime();
    if (now - tradeAt < TRADE_EVERY_MS) return DONE;
    const stop = await pullTrade(parts);
    if (stop.kind === "done") tradeAt = now;
    return stop;
  }

  /** Only for a time without signal: where it cannot be had the rest is in step all the same. */
  async function reasoning(): Promise<Stop> {
    const now = parts.now().getTime();
    if (now - reasoningAt < TRADE_EVERY_MS) return DONE;
    const stop = await pullReasoning(parts);
    if (stop.kind === "done") reasoningAt = now;
    return stop.kind === "unreachable" ? DONE : stop;
  }

  return async () => {
    const owner = parts.owner();
    if (!owner) return { kind: "signed_out" };
    try {
      return await inTurn([() => drain(parts, owner), () => pull(parts), () => meet(owner), lists, reasoning]);
    } catch (error) {
      if (!(error instanceof WireError)) throw error;
      return { kind: "unreachable", why: t().net.cannotRead(error.message), waitS: null };
    }
  };
}

async function inTurn(steps: readonly (() => Promise<Stop>)[]): Promise<Stop> {
  for (const step of steps) {
    const stop = await step();
    if (stop.kind !== "done") return stop;
  }
  return DONE;
}
