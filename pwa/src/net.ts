/** Talks to the service. Only this file touches the network, and it never throws for it. */

import { Seen } from "./seen";
import type { Problem } from "./wire";
import { WireError, parseProblem, read } from "./wire";
import { t } from "./texts";

export interface Call {
  readonly method?: "GET" | "POST" | "PATCH" | "DELETE";
  readonly path: string;
  /** Sent as JSON, or as it is when a Blob or buffer. */
  readonly body?: unknown;
  /** Content type of a body that is not JSON. */
  readonly type?: string;
  readonly key?: string;
  readonly ifMatch?: string;
  readonly ifNoneMatch?: string;
  /** A change that is known already, by its number. */
  readonly seen?: number;
  readonly limitMs?: number;
  /** How to read the answer's body. */
  readonly as?: "json" | "blob";
}

export type Reply =
  | { readonly kind: "ok"; readonly status: number; readonly body: unknown; readonly etag: string | null }
  | { readonly kind: "refused"; readonly problem: Problem; readonly etag: string | null }
  | { readonly kind: "unreachable"; readonly why: string; readonly waitS: number | null }
  | { readonly kind: "signed_out" };

export interface Net {
  call(call: Call): Promise<Reply>;
}

interface NetOptions {
  readonly base?: string;
  readonly token: () => string | null;
  readonly limitMs?: number;
  readonly now?: () => number;
  readonly fetch?: typeof fetch;
  /** The form this client writes in. */
  readonly format?: number;
  /** Called with the least form the service reads, at every answer that tells it. */
  readonly least?: (format: number) => void;
}

/** Raised with a change of what is sent, in step with the service's own. */
export const FORMAT = 1;
const BEHIND = /"\/problems\/behind"/;
const OUTDATED = /\/outdated-client$/;

const LIMIT_MS = 15_000;
/** Not the request's fault: the same request may do later. */
const LATER = new Set([408, 425, 429, 500, 502, 503, 504, 507]);

export function createNet(options: NetOptions): Net {
  const send = options.fetch ?? ((...given: Parameters<typeof fetch>) => fetch(...given));
  const seen = new Seen(options.now ?? Date.now);
  return {
    async call(call) {
      const limit = call.limitMs ?? options.limitMs ?? LIMIT_MS;
      try {
        const response = await send(`${options.base ?? "/api"}${call.path}`, request(call, options, { limit, seen }));
        const least = Number(response.headers.get("Baylore-Least-Format") ?? Number.NaN);
        if (Number.isInteger(least)) options.least?.(least);
        if (response.status === 503 && isJson(response) && BEHIND.test(await response.clone().text())) seen.behind();
        const told = await reply(response, call);
        if (told.kind === "ok") seen.answered(told.body);
        return told;
      } catch (error) {
        return { kind: "unreachable", why: failure(error), waitS: null };
      }
    },
  };
}

const raw = (body: unknown): body is Blob | ArrayBuffer => body instanceof Blob || body instanceof ArrayBuffer;

function request(call: Call, { token: asked, format = FORMAT }: NetOptions, { limit, seen }: { readonly limit: number; readonly seen: Seen }): RequestInit {
  const headers = new Headers({ Accept: "application/json, application/problem+json", "Baylore-Format": String(format) });
  const token = asked();
  if (token) headers.set("Authorization", `Bearer ${token}`);
  const known = token ? seen.by(token, call.seen) : 0;
  if (known > 0) headers.set("Baylore-Seen", String(known));
  if (call.key) headers.set("Idempotency-Key", call.key);
  if (call.ifMatch) headers.set("If-Match", call.ifMatch);
  if (call.ifNoneMatch) headers.set("If-None-Match", call.ifNoneMatch);
  const init: RequestInit = {
    method: call.method ?? "GET",
    headers,
    cache: "no-store",
    signal: AbortSignal.timeout(limit),
  };
  if (call.body === undefined) return init;
  headers.set("Content-Type", raw(call.body) ? (call.type ?? "application/octet-stream") : "application/json");
  return { ...init, body: raw(call.body) ? call.body : JSON.stringify(call.body) };
}

async function reply(response: Response, call: Call): Promise<Reply> {
  const etag = response.headers.get("ETag");
  if (response.status === 401) return { kind: "signed_out" };
  if (LATER.has(response.status)) return later(response);
  if (response.status === 304 || response.status === 204)
    return { kind: "ok", status: response.status, body: null, etag };
  if (response.ok) return answered(response, call, etag);
  return refused(response, etag);
}

function later(response: Response): Reply {
  const wait = Number(response.headers.get("Retry-After"));
  return {
    kind: "unreachable",
    why: t().net.notReady(response.status),
    waitS: Number.isFinite(wait) && wait > 0 ? wait : null,
  };
}

async function answered(response: Response, call: Call, etag: string | null): Promise<Reply> {
  if (call.as === "blob" && !isPage(response))
    return { kind: "ok", status: response.status, body: await response.blob(), etag };
  if (!isJson(response)) return stranger(response);
  return { kind: "ok", status: response.status, body: await response.json(), etag };
}

/** A proxy may refuse a large picture in words of its own; sending it again would not help. */
const tooLarge = (etag: string | null): Reply => {
  const problem = {
    title: t().net.tooLarge,
    status: 413,
    detail: t().net.noBodyOfThisSize,
    remedy: t().net.sendSmaller,
  };
  return { kind: "refused", problem: read(parseProblem, problem), etag };
};

async function refused(response: Response, etag: string | null): Promise<Reply> {
  if (response.status === 413 && !isJson(response)) return tooLarge(etag);
  if (!isJson(response)) return stranger(response);
  const body: unknown = await response.json();
  try {
    const problem = read(parseProblem, body);
    // Not the request's fault: once this client is updated, it may go.
    if (OUTDATED.test(problem.type)) return { kind: "unreachable", why: t().net.outdated, waitS: null };
    return { kind: "refused", problem, etag };
  } catch (error) {
    if (!(error instanceof WireError)) throw error;
    return stranger(response);
  }
}

/** A sign-in page of a guest network or a proxy: not our service, whatever its status. */
const stranger = (response: Response): Reply => ({
  kind: "unreachable",
  why: t().net.stranger(response.status),
  waitS: null,
});

/** A page that is no file: what stands in the way of a network shows one in place of the answer. */
const isPage = (response: Response): boolean =>
  /\bhtml\b/.test(response.headers.get("Content-Type") ?? "") && !/^attachment\b/.test(response.headers.get("Content-Disposition") ?? "");

const isJson = (response: Response): boolean => /\bjson\b/.test(response.headers.get("Content-Type") ?? "");

function failure(error: unknown): string {
  if (error instanceof DOMException && error.name === "TimeoutError") return t().net.noAnswerInTime;
  return t().net.noConnection;
}
