/** What waits to be sent: each act on a case, in the order it was done, with its key made once. */

import type {
  CaseBody,
  CaseChange,
  CloseBody,
  ObjectionBody,
  PartBody,
  PartChange,
  Problem,
  ReadingBody,
  ReopenBody,
  RepairBody,
  SkipBody,
  StepChange,
  TestBody,
} from "../wire";

interface PhotoNote {
  readonly id: string;
  readonly type: string;
  readonly bytes: number;
  readonly note: string;
  readonly step: string | null;
}

export type Act =
  | { readonly do: "open"; readonly body: CaseBody & { readonly id: string } }
  | { readonly do: "amend"; readonly change: CaseChange; readonly before: unknown }
  | { readonly do: "delete" }
  | { readonly do: "test"; readonly body: TestBody & { readonly id: string } }
  | { readonly do: "reading"; readonly body: ReadingBody & { readonly id: string } }
  | { readonly do: "part"; readonly body: PartBody & { readonly id: string } }
  | { readonly do: "repair"; readonly body: RepairBody & { readonly id: string } }
  | { readonly do: "skip"; readonly body: SkipBody & { readonly id: string } }
  | { readonly do: "object"; readonly body: ObjectionBody & { readonly id: string } }
  | {
      readonly do: "step change";
      readonly of: "tests" | "readings";
      readonly step: string;
      readonly change: StepChange;
      /** What the member saw there; absent in acts of before it was kept. */
      readonly before?: unknown;
    }
  | { readonly do: "part result"; readonly step: string; readonly change: PartChange; readonly before?: unknown }
  | { readonly do: "undo"; readonly step: string }
  | { readonly do: "photo"; readonly photo: PhotoNote }
  | { readonly do: "close"; readonly body: CloseBody }
  | { readonly do: "reopen"; readonly body: ReopenBody & { readonly id: string } };

type EntryState = "queued" | "sending" | "parked";

/** Whose act it is: it is never sent under another sign-in. */
export interface Owner {
  readonly shop: string;
  readonly member: string;
}

export interface Entry {
  /** Place in the queue; given by the store, oldest first. */
  readonly seq: number;
  /** Idempotency key: the same at every try. */
  readonly key: string;
  readonly owner: Owner;
  /** The case acted on; for a reopening, the old one. */
  readonly caseId: string;
  readonly act: Act;
  readonly state: EntryState;
  /** Why the service refused, when parked. */
  readonly problem: Problem | null;
  readonly made: string;
  readonly tries: number;
}

export type NewEntry = Omit<Entry, "seq">;

export const newEntry = (
  caseId: string,
  act: Act,
  { key, owner, now }: { key: string; owner: Owner; now: Date },
): NewEntry => ({
  key,
  owner,
  caseId,
  act,
  state: "queued",
  problem: null,
  made: now.toISOString(),
  tries: 0,
});

export const sending = (entry: Entry): Entry => ({ ...entry, state: "sending", tries: entry.tries + 1 });
export const queued = (entry: Entry): Entry => ({ ...entry, state: "queued", problem: null });
export const parked = (entry: Entry, problem: Problem): Entry => ({ ...entry, state: "parked", problem });

/** A refused entry with its act mended: a new key, for the old one is bound to the old words. */
export const mended = (entry: Entry, act: Act, key: string): Entry => ({ ...queued(entry), act, key });

/** The cases an entry speaks of: a reopening also makes a new one. */
export const casesOf = (entry: NewEntry): readonly string[] =>
  entry.act.do === "reopen" ? [entry.caseId, entry.act.body.id] : [entry.caseId];

export const ownedBy = (entry: NewEntry, owner: Owner | null): boolean =>
  owner !== null && entry.owner.shop === owner.shop && entry.owner.member === owner.member;

/**
 * The entries that may go now, oldest first. Behind a parked entry the later ones of the same
 * case wait, for they may rest on it; other cases go on.
 */
export function sendable(entries: readonly Entry[]): readonly Entry[] {
  const held = new Set<string>();
  const free: Entry[] = [];
  for (const entry of [...entries].sort((a, b) => a.seq - b.seq)) {
    const cases = casesOf(entry);
    if (entry.state === "parked" || cases.some((id) => held.has(id))) cases.forEach((id) => held.add(id));
    else free.push(entry);
  }
  return free;
}

export interface Send {
  readonly method: "POST" | "PATCH" | "DELETE";
  readonly path: string;
  /** JSON body; undefined where there is none or it is a photo. */
  readonly body?: unknown;
  /** An update must say which revision it was made on. */
  readonly needsRevision: boolean;
}

/** Where what an act carries goes, below its case. */
const POSTED = {
  test: "/tests",
  reading: "/readings",
  part: "/parts",
  repair: "/repairs",
  skip: "/skips",
  object: "/objections",
  close: "/close",
  reopen: "/reopen",
} as const;

/** The request an entry stands for. */
export function toSend(entry: Entry): Send {
  const { act, caseId } = entry;
  const path = `/cases/${encodeURIComponent(caseId)}`;
  const post = (tail: string, body?: unknown): Send => ({ method: "POST", path: path + tail, body, needsRevision: false });
  switch (act.do) {
    case "open":
      return { method: "POST", path: "/cases", body: act.body, needsRevision: false };
    case "amend":
      return { method: "PATCH", path, body: act.change, needsRevision: true };
    case "delete":
      return { method: "DELETE", path, needsRevision: true };
    case "step change":
      return { method: "PATCH", path: `${path}/${act.of}/${act.step}`, body: act.change, needsRevision: act.before !== undefined };
    case "part result":
      return { method: "PATCH", path: `${path}/parts/${act.step}`, body: act.change, needsRevision: act.before !== undefined };
    case "undo":
      return { method: "DELETE", path: `${path}/steps/${act.step}`, needsRevision: false };
    case "photo":
      return post(`/photos?${photoQuery(act.photo)}`);
    default:
      return post(POSTED[act.do], act.body);
  }
}

function photoQuery(photo: PhotoNote): string {
  const query = new URLSearchParams({ id: photo.id });
  if (photo.step) query.set("step", photo.step);
  if (photo.note) query.set("note", photo.note);
  return query.toString();
}
