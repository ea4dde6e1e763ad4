/** The thread that reckons without signal: reads the phone's own store, answers by itself. */

import { openDb } from "./db";
import type { Db } from "./db";
import { localCases } from "./model/local-case";
import type { LocalCase } from "./model/local-case";
import { createEngine } from "./reason/engine";
import { CopyError } from "./reason/figures";
import { READER, Reckoner } from "./reason/reckoner";
import type { KeptText, Marked } from "./reason/reckoner";
import type { ToWorker, FromWorker } from "./reason-talk";

const READ_AT_ONCE = 250;

interface Scope {
  addEventListener(kind: "message", hear: (event: MessageEvent<ToWorker>) => void): void;
  postMessage(message: FromWorker): void;
}

interface Stamps {
  readonly cases: string | null;
  readonly lists: string;
}

class Desk {
  private db: Db | null = null;
  private reckoner: Reckoner | null = null;
  private seen: Stamps = { cases: null, lists: "" };
  private stored: readonly Marked[] = [];

  constructor(private readonly name: string | undefined) {}

  private async store(): Promise<Db> {
    this.db ??= await openDb({ ...(this.name !== undefined && { name: this.name }), lost: () => (this.db = null) });
    return this.db;
  }

  /** Everything as it is in the store now; what has the same stamp is not read again. */
  async upToDate(): Promise<Reckoner> {
    const db = await this.store();
    const [cases, trade, reason] = await Promise.all([db.meta("casesStamp"), db.meta("tradeStamp"), db.meta("reasonStamp")]);
    const lists = `${READER} ${trade ?? ""} ${reason ?? ""}`;
    if (!this.reckoner || this.seen.lists !== lists) this.reckoner = await this.engineOf(db);
    if (this.seen.lists !== lists || this.seen.cases !== cases) this.stored = (await db.cases()).filter((one) => !one.joined_into).map((file) => ({ file, mark: String(file.revision) }));
    await this.readIn(db, this.reckoner, lists);
    this.seen = { cases, lists };
    this.reckoner.take(await this.withUnsent(db));
    return this.reckoner;
  }

  private async engineOf(db: Db): Promise<Reckoner> {
    const [lists, shop, trade] = await Promise.all([db.reasoning("lists"), db.reasoning("shop"), db.trade()]);
    if (!lists || !shop) throw new CopyError("this phone has not fetched yet what it reckons with");
    return new Reckoner(createEngine(lists.body, shop.body, trade));
  }

  /** Reads what was not read before, and keeps it for the next start. */
  private async readIn(db: Db, reckoner: Reckoner, lists: string): Promise<void> {
    const first = this.seen.lists !== lists;
    const kept = new Map((first ? await db.texts(lists) : []).map((one) => [one.id, one]));
    const unread = reckoner.unread(this.stored, kept);
    for (let at = 0; at < unread.length; at += READ_AT_ONCE) {
      const fresh: KeptText[] = unread.slice(at, at + READ_AT_ONCE).map((one) => reckoner.read(one));
      fresh.forEach((one) => kept.set(one.id, one));
      await db.keepTexts(fresh, lists);
    }
    reckoner.take(this.stored, kept);
  }

  /** With the cases that were closed here and are still unsent. */
  private async withUnsent(db: Db): Promise<readonly Marked[]> {
    const outbox = await db.outbox();
    if (!outbox.some(({ act }) => act.do === "close")) return this.stored;
    const touched = new Set(outbox.map(({ caseId }) => caseId));
    const local = localCases(this.stored.map(({ file }) => file).filter(({ id }) => touched.has(id)), outbox, null);
    const closed = new Map(local.filter(({ state, unsent }) => state !== "open" && unsent > 0).map((file: LocalCase) => [file.id, { file, mark: `${file.revision} ${file.unsent} ${file.updated ?? ""}` }]));
    return [...this.stored.filter(({ file }) => !closed.has(file.id)), ...closed.values()];
  }
}

const scope = self as unknown as Scope;
let desk: Desk | null = null;
let turn: Promise<unknown> = Promise.resolve();

async function answered({ id, name, asking }: ToWorker): Promise<FromWorker> {
  desk ??= new Desk(name);
  try {
    const reckoner = await desk.upToDate();
    if (asking) return { id, advice: reckoner.advise(asking), why: "" };
    reckoner.ready();
    return { id, advice: null, why: "" };
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    return { id, advice: null, why: error.message };
  }
}

/** One after the other, in the order of asking. */
scope.addEventListener("message", ({ data }) => {
  turn = turn.then(async () => scope.postMessage(await answered(data)));
});
