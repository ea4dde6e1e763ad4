/** A service in memory for tests: receipts by key, a change log, and a wire that can be cut. */

import { mergePatch } from "../src/model/merge";
import { parseCase, read } from "../src/wire";
import type { Case, Me } from "../src/wire";

export type Cut = "none" | "before" | "after";

export const ME: Me = {
  member: { id: "m1", name: "Kit", role: "technician", skill: 3, active: true, rights: [] },
  device: { id: "d1", name: "bay phone" },
  shop: {
    id: "s1",
    name: "Bay Two",
    currency: "EUR",
    unit_system: "si",
    rate_per_hour: 80,
    time_zone: "Europe/Riga",
    lacks: [],
    rights: [],
    shares: false,
  },
  revision: 0,
  service: null,
};

interface Answer {
  readonly status: number;
  readonly body?: unknown;
}

type Body = Record<string, unknown>;

export class FakeService {
  readonly cases = new Map<string, Case>();
  readonly receipts = new Map<string, { digest: string; answer: Answer }>();
  readonly log: { seq: number; id: string; op: "put" | "delete"; kind?: "trade" | "tuning" }[] = [];
  /** Every write that was carried out, in order: "POST /cases". */
  readonly done: string[] = [];
  readonly seen: Request[] = [];
  cut: () => Cut = () => "none";
  /** Answers that come before any work, by what the request is. */
  refuse: (method: string, path: string, body: Body) => Answer | null = () => null;
  /** Paths that fail inside the service. */
  broken = /^$/;
  token = "good";
  /** A renewed token, as soon as one was asked for. */
  offered = "";
  /** The least form of client it reads. */
  least = 1;
  /** What the shop added to the trade lists. */
  readonly own: Record<string, object[]> = {};

  readonly fetch = async (input: string | URL | Request, init?: RequestInit): Promise<Response> => {
    const request = new Request(new URL(String(input), "http://shop.test"), init);
    this.seen.push(request.clone());
    const cut = this.cut();
    if (cut === "before") throw new TypeError("cut before it was sent");
    const answer = await this.answer(request);
    if (cut === "after") throw new TypeError("cut before the answer came");
    const type = answer.status >= 400 ? "application/problem+json" : "application/json";
    const empty = answer.body === undefined;
    return new Response(empty ? null : JSON.stringify(answer.body), {
      status: answer.status,
      headers: { "Content-Type": type, "Baylore-Least-Format": String(this.least) },
    });
  };

  private async answer(request: Request): Promise<Answer> {
    const { pathname, searchParams } = new URL(request.url);
    const path = pathname.replace(/^\/api/, "");
    if (path === "/devices" && request.method === "POST") return { status: 201, body: { token: this.token, ...ME } };
    const given = request.headers.get("Authorization");
    if (given !== `Bearer ${this.token}` && given !== `Bearer ${this.offered}`) return problem(401, "not signed in");
    if (path === "/me/token") return { status: 201, body: { token: (this.offered = `${this.token}+`) } };
    if (request.method === "GET") return this.fetched(path, searchParams);
    if (Number(request.headers.get("Baylore-Format")) < this.least) return problem(409, "too old", { type: "/problems/outdated-client" });
    const text = await request.text();
    const body = (
      request.headers.get("Content-Type") === "application/json"
        ? JSON.parse(text)
        : { bytes: text.length, id: searchParams.get("id") }
    ) as Body;
    const refused = this.refuse(request.method, path, body);
    return refused ?? this.once(request, path, body, text);
  }

  private fetched(path: string, query: URLSearchParams): Answer {
    if (this.broken.test(path)) return problem(500, "it failed inside");
    if (path === "/changes") return this.changes(Number(query.get("after")), Number(query.get("limit")));
    if (path === "/me") return { status: 200, body: ME };
    if (path.startsWith("/trade/")) return { status: 200, body: { list: path.slice(7), version: "1", items: this.own[path.slice(7)] ?? [] } };
    const known = this.cases.get(path.split("/")[2] ?? "");
    return known ? { status: 200, body: known } : problem(404, "no such thing");
  }

  private changes(after: number, limit: number): Answer {
    const page = this.log.filter(({ seq }) => seq > after).slice(0, limit);
    const changes = page.map((row) => ({
      kind: "case",
      ...row,
      case: row.op === "put" ? (this.cases.get(row.id) ?? null) : null,
    }));
    return { status: 200, body: { changes, next: page.at(-1)?.seq ?? after, latest: this.log.length } };
  }

  private once(request: Request, path: string, body: Body, text: string): Answer {
    const key = request.headers.get("Idempotency-Key") ?? "";
    const digest = `${request.method} ${path} ${text}`;
    const kept = this.receipts.get(key);
    if (kept) return kept.digest === digest ? kept.answer : problem(422, "key used for another request");
    const answer = this.write(request, path, body);
    if (answer.status < 400) {
      this.receipts.set(key, { digest, answer });
      this.done.push(`${request.method} ${path}`);
    }
    return answer;
  }

  private write(request: Request, path: string, body: Body): Answer {
    if (path.startsWith("/trade/")) return this.addOwn(path.slice("/trade/".length), body);
    const [, , id = "", tail = "", step = ""] = path.split("/");
    if (path === "/cases")
      return this.cases.has(String(body["id"]))
        ? problem(409, "there already")
        : this.put({ state: "open", ...body }, 201);
    const known = this.cases.get(id);
    if (!known) return problem(404, "no such case");
    if (request.method !== "POST" && !tail) return this.update(request, known, body);
    if (request.method === "DELETE") return this.put({ ...known, [tail]: [] }, 200);
    if (tail === "close") return this.put({ ...known, ...body, state: "closed" }, 200);
    if (tail === "reopen")
      return this.put({ state: "open", complaint: known.complaint, ...body, comeback_of: id }, 201);
    if (tail === "photos")
      return this.put({ ...known, photos: [...known.photos, { type: "image/jpeg", ...body }] }, 201);
    const field = (tail === "skips" ? "skipped" : tail) as "tests" | "readings" | "parts";
    const at = request.headers.get("If-Match");
    if (at !== null && at !== `"${known.revision}"`) return problem(412, "stale");
    if (step) {
      const changed = known[field].map((one) => (one.id === step ? { ...one, ...body } : one));
      return this.put({ ...known, [field]: changed }, 200);
    }
    return this.put({ ...known, [field]: [...known[field], body] }, 201);
  }

  private addOwn(list: string, body: Body): Answer {
    const item = { ...body, id: "own.pull_the_carpet", own: true };
    this.own[list] = [...(this.own[list] ?? []), item];
    return { status: 201, body: item };
  }

  private update(request: Request, known: Case, body: Body): Answer {
    if (request.headers.get("If-Match") !== `"${known.revision}"`) return problem(412, "stale");
    if (request.method === "PATCH") return this.put(mergePatch(known, body) as Body, 200);
    this.cases.delete(known.id);
    this.log.push({ seq: this.log.length + 1, id: known.id, op: "delete" });
    return { status: 204 };
  }

  /** Stores a case as a new revision. */
  put(given: object, status = 200): Answer {
    const fresh = read(parseCase, { ...given, revision: this.log.length + 1, updated: "2026-03-11T09:20:00Z" });
    this.cases.set(fresh.id, fresh);
    this.log.push({ seq: fresh.revision, id: fresh.id, op: "put" });
    return { status, body: fresh };
  }
}

export const problem = (status: number, detail: string, more: object = {}): Answer => ({
  status,
  body: { type: "/problems/test", title: detail, status, detail, remedy: "mend it", ...more },
});

/** A small seeded source of chance, so that a failing run can be run again. */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
