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
    const reply = await ways.net.call({ path: `/changes?after=${after}&limit=${PAGE}`, seen: after, limitMs: PULL_LIMIT_MS });
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
  const touched = (...any: string[]): boolean => any.some((kind) => kinds.has(kind));
  return inTurn([
    async () => (touched("trade", "tuning") ? inTurn([() => pullTrade(ways), async () => spared(await pullReasoning(ways))]) : DONE),
    async () => (touched("shop", "member") ? pullMe(ways) : DONE),
  ]);
}

/** Up to the first that stops. */
export async function inTurn(steps: readonly (() => Promise<Stop>)[]): Promise<Stop> {
  for (const step of steps) {
    const stop = await step();
    if (stop.kind !== "done") return stop;
  }
  return DONE;
}

/** Of what is only for a time without signal: where it cannot be had the rest is in step all the same. */
export const spared = (stop: Stop): Stop => (stop.kind === "unreachable" ? DONE : stop);

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
  const stop = await inTurn(TRADE_LISTS.map((list) => () => pullList(ways, list)));
  if (stop.kind === "done") ways.changed();
  return stop;
}

/** What the phone reckons with, when there is no signal; an older service has none, and then it searches by words. */
export async function pullReasoning(ways: Ways): Promise<Stop> {
  const stop = await inTurn(REASONING_PARTS.map((part) => () => pullPart(ways, part)));
  if (stop.kind === "done") ways.changed();
  return stop;
}

async function pullList(ways: Ways, list: TradeList): Promise<Stop> {
  const put = (etag: string | null, body: unknown): Promise<void> => ways.db.putTradeList({ list, etag, ...read(parseTradeAnswer(list), body) });
  return pullNewer(ways, `/trade/${list}`, put);
}

async function pullPart(ways: Ways, part: ReasoningPart): Promise<Stop> {
  const put = (etag: string | null, body: unknown): Promise<void> => ways.db.putReasoning({ part, etag, body: body as ReasoningBody[ReasoningPart] });
  return pullNewer(ways, `/reasoning/${part}`, put);
}

/** Puts by what is newer at the service than what is kept; a refusal leaves what is kept. */
async function pullNewer({ db, net }: Ways, path: string, put: (etag: string | null, body: unknown) => Promise<void>): Promise<Stop> {
  const reply = await net.call({ path, ifNoneMatch: (await db.meta("tags"))?.[path] ?? undefined, limitMs: PULL_LIMIT_MS });
  if (reply.kind === "refused") return DONE;
  if (reply.kind !== "ok") return reply;
  if (reply.status !== 304) await put(reply.etag, reply.body);
  return DONE;
}
