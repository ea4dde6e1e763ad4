import type { ReadonlySignal } from "@preact/signals";
import type { CopyFacts } from "./model/copy-limit";
import type { Draft } from "./model/draft";
import type { Act, Entry } from "./model/outbox";
import type { LocalCase } from "./model/local-case";
import type { Found, LocalReadAs } from "./model/local-search";
import type { SyncState } from "./model/sync-state";
import type * as wire from "./wire";
import type { Elsewhere, Sharing } from "./wire-sharing";

/** An answer of the service, or why there is none. */
export type Online<T> =
  | { readonly kind: "ok"; readonly value: T }
  | { readonly kind: "refused"; readonly problem: wire.Problem }
  | { readonly kind: "unreachable"; readonly why: string }
  | { readonly kind: "signed_out" };

/** Advice from the service, or what the phone itself remembers when there is no signal. */
export type Asked =
  | { readonly kind: "advice"; readonly advice: wire.Advice }
  | {
      readonly kind: "local";
      /** Worked out on this phone; null where only its words could be searched. */
      readonly advice: wire.Advice | null;
      /** What the phone lacks to work it out; empty where it did. */
      readonly lacking: string;
      readonly found: readonly Found[];
      readonly readAs: readonly LocalReadAs[];
      readonly judged: readonly wire.Judged[];
      readonly why: string;
    }
  | { readonly kind: "refused"; readonly problem: wire.Problem }
  | { readonly kind: "signed_out" };

export interface PhoneSignals {
  /** Null until joined. */
  readonly me: ReadonlySignal<wire.Me | null>;
  /** False until the stored copy has been read. */
  readonly ready: ReadonlySignal<boolean>;
  readonly sync: ReadonlySignal<SyncState>;
  /** Every case with the phone's own unsent acts applied, last touched first. */
  readonly cases: ReadonlySignal<readonly LocalCase[]>;
  readonly trade: ReadonlySignal<wire.Trade>;
  readonly drafts: ReadonlySignal<readonly Draft[]>;
  /** Every case as the service last gave it, without what waits here. */
  readonly stored: ReadonlySignal<readonly wire.Case[]>;
  /** Oldest first. */
  readonly outbox: ReadonlySignal<readonly Entry[]>;
  /** A newer version of the app waits for the member's tap. */
  readonly newVersion: ReadonlySignal<boolean>;
  /** The service no longer reads what this version of the app writes: all of it waits here. */
  readonly outdated: ReadonlySignal<boolean>;
  /** True when the browser promised to keep the stored notes; null when it cannot say. */
  readonly kept: ReadonlySignal<boolean | null>;
}

/** Acts on a case return once saved on this phone, and do not wait for the service. */
export interface Phone extends PhoneSignals {
  start(): Promise<void>;
  /** Ends sending and closes the store; done when nothing runs any more. */
  stop(): Promise<void>;
  join(code: string, deviceName: string): Promise<Online<wire.Me>>;
  /** Refuses (false) while something is unsent, unless told to let it go. */
  signOut(options?: { discardUnsent?: boolean }): Promise<boolean>;

  ask(draft: Draft): Promise<Asked>;
  askCase(caseId: string): Promise<Asked>;
  saveDraft(draft: Draft): Promise<void>;
  dropDraft(id: string): Promise<void>;

  /** Opens a case of the draft and drops the draft; gives the new case's id. */
  openCase(draft: Draft): Promise<string>;
  amendCase(caseId: string, change: wire.CaseChange): Promise<void>;
  deleteCase(caseId: string): Promise<void>;
  addTest(caseId: string, test: wire.TestBody): Promise<string>;
  addReading(caseId: string, reading: wire.ReadingBody): Promise<string>;
  addPart(caseId: string, part: wire.PartBody): Promise<string>;
  addRepair(caseId: string, repair: wire.RepairBody): Promise<string>;
  skipTest(caseId: string, skip: wire.SkipBody): Promise<string>;
  /** Says that a proposed cause is wrong, and why. */
  object(caseId: string, objection: wire.ObjectionBody): Promise<string>;
  /** Puts a test's outcome or a reading's value right. */
  changeStep(caseId: string, of: "tests" | "readings", step: string, change: wire.StepChange): Promise<void>;
  setPartResult(caseId: string, step: string, change: wire.PartChange): Promise<void>;
  undoStep(caseId: string, step: string): Promise<void>;
  addPhoto(caseId: string, photo: Blob, options?: { note?: string; step?: string }): Promise<string>;
  /** The picture's bytes, from this phone or the service. */
  photo(caseId: string, photoId: string): Promise<Online<Blob>>;
  closeCase(caseId: string, body: wire.CloseBody): Promise<void>;
  /** Opens the comeback; gives the new case's id. */
  reopenCase(caseId: string, body: wire.ReopenBody): Promise<string>;

  /** What the copy on this phone takes, and what it leaves out. */
  copyFacts(): Promise<CopyFacts>;
  retry(key: string): Promise<void>;
  mend(key: string, act: Act): Promise<void>;
  /** Lets a refused act go for good. */
  letGo(key: string): Promise<void>;
  /** Where somebody else changed the same field meanwhile, theirs stays; what else the act changes is sent. */
  giveWay(key: string): Promise<void>;
  /** What was never sent, with its pictures, as a file of plain JSON. */
  unsentFile(): Promise<Blob>;
  /** Lets go of all of it; only where nobody is signed in any more. */
  letGoUnsent(): Promise<void>;
  syncNow(): Promise<void>;
  /** Starts the waiting version, or fetches one, and loads the page anew. */
  takeNewVersion(): Promise<void>;

  /** One of the manager's reports by its address, read by the parser that belongs to it. */
  report<T>(path: string, parse: wire.Parser<T>): Promise<Online<T>>;
  /** One of the manager's reports as a file. */
  reportFile(path: string): Promise<Online<Blob>>;
  /** A change the office makes while the service can be reached. */
  send<T>(method: "POST" | "DELETE", path: string, body: unknown, parse: wire.Parser<T>): Promise<Online<T>>;
  settleAlert(id: string, state: wire.Alert["state"], reason: string): Promise<Online<wire.Alert>>;
  parts(component?: string): Promise<Online<wire.PartsReport>>;
  members(): Promise<Online<readonly wire.Member[]>>;
  /** Usable at once: the lists are fetched anew before it returns. The key keeps a second try from doubling it. */
  addOwnTest(body: wire.OwnTestBody, key: string): Promise<Online<wire.TradeTest>>;
  addOwnCause(body: wire.OwnCauseBody, key: string): Promise<Online<wire.TradeCause>>;
  /** The word is never mended again, on any phone of the shop, and read as what it stands for too. */
  keepWord(word: string, means?: string): Promise<Online<wire.OwnWord>>;
  dropWord(word: string): Promise<Online<null>>;
  tuning(): Promise<Online<wire.Tuning>>;
  /** Other records of the same visit. */
  alike(caseId: string): Promise<Online<readonly wire.AlikeCase[]>>;
  /** Joins the other record in, or says that it is another visit, or splits this one off again; once for each key. */
  settleTwin(twin: wire.Settled, key: string): Promise<Online<unknown>>;
  /** A case as other shops would see it. */
  sharing(caseId: string): Promise<Online<Sharing>>;
  /** Shares the case as it was seen at the revision; null takes it back. */
  setSharing(caseId: string, revision: number | null): Promise<Online<Sharing>>;
  /** Like cases of other shops. */
  elsewhere(body: wire.AdviceBody): Promise<Online<Elsewhere>>;
  addMember(member: { name: string; role: wire.Role; skill: number }): Promise<Online<wire.Member>>;
  amendMember(
    id: string,
    change: Partial<Pick<wire.Member, "name" | "role" | "skill" | "active" | "rights">>,
  ): Promise<Online<wire.Member>>;
  enrol(member: string): Promise<Online<wire.Enrolment>>;
  devices(): Promise<Online<readonly wire.Device[]>>;
  revokeDevice(id: string): Promise<Online<null>>;
  amendShop(change: Partial<Omit<wire.Shop, "id">>): Promise<Online<wire.Shop>>;
  exportLines(): Promise<Online<Blob>>;
  importLines(lines: Blob, mode: "all" | "report"): Promise<Online<wire.ImportReport>>;
}
