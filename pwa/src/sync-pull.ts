/** Fetches what changed at the service into the phone's own copy. */

import type { Stop, Ways } from "./sync-drain";
import { TRADE_LISTS, parseChanges, parseMe, parseTradeAnswer, read } from "./wire";
import type { TradeList } from "./wire";
import { REASONING_PARTS } from "./wire-reasoning";
import type { ReasoningBody, ReasoningPart } from "./wire-reasoning";

const PAGE = 200;
const DONE: Stop = { kind: "done" };
const PULL_LIMIT_MS = 30_000;

/** All changes after the last one kept here, page by page; then the lists and the member, if those changed. */
export async function pull(ways: Ways): Promise<Stop> {
  const kinds = new Set<string>();
  for (;;) {
    const after = (await ways.db.meta("cursor")) ?? 0;
    const reply = await ways.net.call({ path: `/changes?after=${after}&limit=${PAGE}`, limitMs: PULL_LIMIT_MS });
    if (reply.kind === "refused")
      return { kind: "unreachable", why: reply.problem.detail || reply.problem.title, waitS: null };
    if (reply.kind !== "ok") return reply;
    const { changes, next, latest } = read(parseChanges, reply.body);
    if (latest < after) {
      // The service was put back to an older state: what is kept here may never have been.
      await ways.db.restartCases();
      continue;
    }
    await ways.db.applyChanges(changes, next);
    changes.forEach((change) => kinds.add(change.kind));
    if (changes.length) ways.changed();
    if (next >= latest || next <= after) break;
  }
  if (kinds.has("case")) await keepWithin(ways);
  const lists = kinds.has("trade") || kinds.has("tuning") ? await pullTrade(ways) : DONE;
  if (lists.kind !== "done") return lists;
  return kinds.has("shop") || kinds.has("member") ? pullMe(ways) : DONE;
}

/** So few cases are never too much for a phone, and are not measured. */
const FEW = 4_000;

async function keepWithin(ways: Ways): Promise<void> {
  if ((await ways.db.casesHeld()) > FEW) await (await import("./sync-keep")).keepNewest(ways);
}

/** The member, their rights and the shop's habits. */
export async function pullMe({ db, net, changed }: Ways): Promise<Stop> {
  const reply = await net.call({ path: "/me" });
  if (reply.kind === "refused") return DONE;
  if (reply.kind !== "ok") return reply;
  await db.setMeta("me", read(parseMe, reply.body));
  changed();
  return DONE;
}

/** The trade lists that are newer at the service. */
export async function pullTrade(ways: Ways): Promise<Stop> {
  for (const list of TRADE_LISTS) {
    const stop = await pullList(ways, list);
    if (stop.kind !== "done") return stop;
  }
  ways.changed();
  return DONE;
}

/** What the phone reckons with, when there is no signal. */
export async function pullReasoning(ways: Ways): Promise<Stop> {
  for (const part of REASONING_PARTS) {
    const stop = await pullPart(ways, part);
    if (stop.kind !== "done") return stop;
  }
  ways.changed();
  return DONE;
}

async function pullList({ db, net }: Ways, list: TradeList): Promise<Stop> {
  const kept = await db.tradeList(list);
  const reply = await net.call({
    path: `/trade/${list}`,
    ifNoneMatch: kept?.etag ?? undefined,
    limitMs: PULL_LIMIT_MS,
  });
  if (reply.kind === "refused") return DONE;
  if (reply.kind !== "ok") return reply;
  if (reply.status === 304) return DONE;
  await db.putTradeList({ list, etag: reply.etag, ...read(parseTradeAnswer(list), reply.body) });
  return DONE;
}

/** What the phone reckons with; an older service has none, and then it searches by words. */
async function pullPart({ db, net }: Ways, part: ReasoningPart): Promise<Stop> {
  const kept = await db.reasoning(part);
  const reply = await net.call({ path: `/reasoning/${part}`, ifNoneMatch: kept?.etag ?? undefined, limitMs: PULL_LIMIT_MS });
  if (reply.kind === "refused") return DONE;
  if (reply.kind !== "ok") return reply;
  if (reply.status !== 304) await db.putReasoning({ part, etag: reply.etag, body: reply.body as ReasoningBody[ReasoningPart] });
  return DONE;
}
