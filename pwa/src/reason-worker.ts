/** The thread that reckons without signal: reads the phone's own store, answers by itself. */

import { openDb } from "./db";
import type { Db } from "./db";
import { localCases } from "./model/local-case";
import type { LocalCase } from "./model/local-case";
import type { Entry } from "./model/outbox";
import { createEngine } from "./reason/engine";
import { CopyError } from "./reason/figures";
import { READER, Reckoner } from "./reason/reckoner";
import type { KeptText, Marked } from "./reason/reckoner";
import type { ToWorker, FromWorker } from "./reason-talk";
import { keepTexts, keptTexts } from "./reason-texts";

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
  /** The cases closed here and unsent, by their marks, as they were taken last. */
  private unsent = "";

  constructor(private readonly name: string | undefined) {}

  private async store(): Promise<Db> {
    this.db ??= await openDb({ ...(this.name !== undefined && { name: this.name }), lost: () => (this.db = null) });
    return this.db;
  }

  /** Everything as it is in the store now; what has the same stamp is not read again. */
  async upToDate(): Promise<Reckoner> {
    const db = await this.store();
    const { stamps, outbox } = await db.present();
    const [cases, trade, reason] = stamps.map((each) => (typeof each === "string" ? each : null));
    const lists = `${READER} ${trade ?? ""} ${reason ?? ""}`;
    const [newLists, newCases] = [!this.reckoner || this.seen.lists !== lists, this.seen.cases !== (cases ?? null)];
    const reckoner = newLists || !this.reckoner ? await engineOf(db) : this.reckoner;
    if (newLists || newCases) {
      this.stored = (await db.cases()).filter((one) => !one.joined_into).map((file) => ({ file, mark: String(file.revision) }));
      await this.readIn(db, reckoner, { lists, first: newLists });
    }
    [this.reckoner, this.seen] = [reckoner, { cases: cases ?? null, lists }];
    const closed = this.closedHere(outbox);
    const unsent = closed.map(({ file, mark }) => `${file.id} ${mark}`).join();
    if (newLists || newCases || unsent !== this.unsent) {
      const ids = new Set(closed.map(({ file }) => file.id));
      reckoner.take(closed.length ? [...this.stored.filter(({ file }) => !ids.has(file.id)), ...closed] : this.stored);
      this.unsent = unsent;
    }
    return reckoner;
  }

  /** Reads what was not read before, and keeps it for the next start. */
  private async readIn(db: Db, reckoner: Reckoner, { lists, first }: { readonly lists: string; readonly first: boolean }): Promise<void> {
    const kept = new Map(first ? (await keptTexts(db, lists)).map((one) => [one.id, one]) : []);
    const unread = reckoner.unread(this.stored, kept);
    for (let at = 0; at < unread.length; at += READ_AT_ONCE) {
      const fresh: KeptText[] = unread.slice(at, at + READ_AT_ONCE).map((one) => reckoner.read(one));
      fresh.forEach((one) => kept.set(one.id, one));
      await keepTexts(db, fresh, lists);
    }
    reckoner.take(this.stored, kept);
  }

  /** The cases that were closed here and are still unsent. */
  private closedHere(outbox: readonly Entry[]): readonly Marked[] {
    if (!outbox.some(({ act }) => act.do === "close")) return [];
    const touched = new Set(outbox.map(({ caseId }) => caseId));
    const local = localCases(this.stored.map(({ file }) => file).filter(({ id }) => touched.has(id)), outbox, null);
    return local.filter(({ state, unsent }) => state !== "open" && unsent > 0).map((file: LocalCase) => ({ file, mark: `${file.revision} ${file.unsent} ${file.updated ?? ""}` }));
  }
}

async function engineOf(db: Db): Promise<Reckoner> {
  const [lists, shop, trade] = await Promise.all([db.reasoning("lists"), db.reasoning("shop"), db.trade()]);
  if (!lists || !shop) throw new CopyError("not fetched");
  return new Reckoner(createEngine(lists.body, shop.body, trade));
}

const scope = self as unknown as Scope;
let desk: Desk | null = null;
let turn: Promise<unknown> = Promise.resolve();

async function answered({ id, name, asking }: ToWorker): Promise<FromWorker> {
  desk ??= new Desk(name);
  try {
    const reckoner = await desk.upToDate();
    if (asking) return { id, advice: reckoner.advise(asking), why: "" };
    reckoner.rehearse();
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
