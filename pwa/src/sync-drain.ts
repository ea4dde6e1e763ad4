/** Sends what waits, oldest first; an entry is forgotten only once the service has it. */

import type { Db } from "./db";
import { clashesOf, isChange } from "./model/clash";
import { alreadyThere } from "./model/local-case";
import { newId } from "./model/ids";
import { mended, ownedBy, parked, queued, sendable, sending, toSend } from "./model/outbox";
import type { Entry, Owner, Send } from "./model/outbox";
import type { Net, Reply } from "./net";
import type { Case, Problem } from "./wire";
import { WireError, parseCase, parseProblem, read } from "./wire";
import { t } from "./texts";

export interface Ways {
  readonly db: Db;
  readonly net: Net;
  /** Something in the store changed. */
  readonly changed: () => void;
}

export type Stop =
  | { readonly kind: "done" }
  | { readonly kind: "unreachable"; readonly why: string; readonly waitS: number | null }
  | { readonly kind: "signed_out" };

const MOST_TRIES_AT_REVISION = 4;

/** Sends the owner's entries until none may go or the service cannot be reached. */
export async function drain(ways: Ways, owner: Owner): Promise<Stop> {
  for (;;) {
    const [entry] = sendable((await ways.db.outbox()).filter((one) => ownedBy(one, owner)));
    if (!entry) return { kind: "done" };
    const marked = sending(entry);
    await ways.db.putEntry(marked);
    ways.changed();
    const stop = await conclude(ways, marked, await deliver(ways, marked));
    ways.changed();
    if (stop) return stop;
  }
}

/** Writes down how one delivery went; a stop when the drain must end here. */
async function conclude({ db }: Ways, entry: Entry, reply: Reply): Promise<Stop | null> {
  if (reply.kind === "ok") {
    await db.settle(entry, entry.act.do === "delete" ? { drop: entry.caseId } : { put: caseIn(reply.body) });
    return null;
  }
  if (reply.kind === "refused") {
    await db.putEntry(unclocked(entry, reply.problem) ?? parked(entry, reply.problem));
    return null;
  }
  await db.putEntry(queued(entry));
  return reply;
}

/** A phone's clock that runs ahead is no reason to keep a case back: the service's own time will do. */
function unclocked(entry: Entry, { field }: Problem): Entry | null {
  if (entry.act.do !== "open" || field !== "opened" || entry.act.body.opened === undefined) return null;
  const { opened: _wrong, ...body } = entry.act.body;
  return mended(entry, { do: "open", body }, newId());
}

/** The case an answer carries. One that cannot be read is stored all the same, and comes by the change log. */
function caseIn(body: unknown): Case | null {
  try {
    return body === null ? null : read(parseCase, body);
  } catch (error) {
    if (error instanceof WireError) return null;
    throw error;
  }
}

async function deliver(ways: Ways, entry: Entry): Promise<Reply> {
  const send = toSend(entry);
  if (entry.act.do === "photo") return deliverPhoto(ways, entry, send);
  if (send.needsRevision) return deliverAtRevision(ways, entry, send);
  const { method, path, body } = send;
  return mendedReply(ways, entry, await ways.net.call({ method, path, body, key: entry.key }));
}

/** A refusal that only says the act is done already counts as stored. */
async function mendedReply(ways: Ways, entry: Entry, reply: Reply): Promise<Reply> {
  if (reply.kind !== "refused") return reply;
  const { status } = reply.problem;
  const gone = status === 404 && (entry.act.do === "delete" || entry.act.do === "undo");
  if (gone) return { kind: "ok", status: 204, body: null, etag: null };
  if (status !== 409) return reply;
  const id = entry.act.do === "reopen" ? entry.act.body.id : entry.caseId;
  const current = await fetchCase(ways, id);
  if (current.kind !== "ok") return current.kind === "refused" ? reply : current;
  const stored = caseIn(current.body);
  return stored && alreadyThere(stored, entry.act) ? current : reply;
}

async function deliverPhoto({ db, net }: Ways, entry: Entry, send: Send): Promise<Reply> {
  const photo = entry.act.do === "photo" ? await db.photo(entry.act.photo.id) : null;
  if (!photo) return refusal(t().net.pictureGone, t().net.takeItAgain);
  return net.call({
    method: "POST",
    path: send.path,
    body: photo.data,
    type: photo.type,
    key: entry.key,
    limitMs: 60_000,
  });
}

const fetchCase = ({ net }: Ways, id: string): Promise<Reply> => net.call({ path: `/cases/${encodeURIComponent(id)}` });

/** Updates go with the revision they rest on; a stale one is tried on the newer case unless they clash. */
async function deliverAtRevision(ways: Ways, entry: Entry, send: Send): Promise<Reply> {
  let known = await ways.db.case(entry.caseId);
  for (let tries = 0; tries < MOST_TRIES_AT_REVISION; tries += 1) {
    if (!known || tries > 0) {
      const fresh = await fetchCase(ways, entry.caseId);
      if (fresh.kind !== "ok") return mendedReply(ways, entry, fresh);
      known = read(parseCase, fresh.body);
      await ways.db.putCase(known);
    }
    const clash = clashOf(entry, known);
    if (clash) return clash;
    const reply = await sendAt(ways, entry, send, known.revision);
    if (reply.kind !== "refused" || reply.problem.status !== 412) return mendedReply(ways, entry, reply);
  }
  return { kind: "unreachable", why: t().net.keepsChanging, waitS: null };
}

const sendAt = ({ net }: Ways, entry: Entry, { method, path, body }: Send, revision: number): Promise<Reply> =>
  net.call({ method, path, body, key: entry.key, ifMatch: `"${revision}"` });

/** What somebody else wrote meanwhile is never written over unseen. */
function clashOf(entry: Entry, known: Case): Reply | null {
  if (!isChange(entry.act)) return null;
  const [clash] = clashesOf(entry.act, known);
  return clash ? refusal(t().net.somebodyElse(clash.field), t().net.lookAndDecide, clash.field) : null;
}

function refusal(detail: string, remedy: string, field?: string): Reply {
  const problem: Problem = read(parseProblem, {
    title: t().net.notSent,
    status: 409,
    detail,
    remedy,
    field,
    type: "/problems/on-this-phone",
  });
  return { kind: "refused", problem, etag: null };
}
