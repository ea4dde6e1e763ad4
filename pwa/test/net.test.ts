import { describe, expect, test } from "vitest";
import { createNet } from "../src/net";
import type { Call } from "../src/net";

const answering = (status: number, body: string | null, headers: Record<string, string> = {}) => {
  const seen: Request[] = [];
  const fetch = async (input: string | URL | Request, init?: RequestInit): Promise<Response> => {
    seen.push(new Request(new URL(String(input), "http://shop.test"), init));
    return new Response(body, { status, headers });
  };
  const net = createNet({ token: () => "secret", fetch: fetch as typeof globalThis.fetch });
  return { seen, call: (call: Partial<Call> = {}) => net.call({ path: "/me", ...call }) };
};
const JSON_TYPE = { "Content-Type": "application/json" };
const PROBLEM_TYPE = { "Content-Type": "application/problem+json" };

describe("what went out", () => {
  test("carries token, key, revision and JSON", async () => {
    const service = answering(201, "{}", JSON_TYPE);
    await service.call({ method: "POST", path: "/cases", body: { a: 1 }, key: "k1", ifMatch: '"7"' });
    const [request] = service.seen;
    expect(request?.url).toBe("http://shop.test/api/cases");
    expect(await request?.json()).toEqual({ a: 1 });
    const sent = ["authorization", "idempotency-key", "if-match", "content-type"].map((name) =>
      request?.headers.get(name),
    );
    expect(sent).toEqual(["Bearer secret", "k1", '"7"', "application/json"]);
  });

  test("a picture goes as it is, under its own type", async () => {
    const service = answering(201, "{}", JSON_TYPE);
    await service.call({ method: "POST", body: new Uint8Array([1, 2, 3]).buffer, type: "image/png" });
    expect(service.seen[0]?.headers.get("content-type")).toBe("image/png");
    expect(new Uint8Array((await service.seen[0]?.arrayBuffer()) ?? new ArrayBuffer(0))).toEqual(
      new Uint8Array([1, 2, 3]),
    );
  });
});

describe("what came back", () => {
  test("an answer keeps its body and tag", async () =>
    expect(await answering(200, '{"a":1}', { ...JSON_TYPE, ETag: '"7"' }).call()).toEqual({
      kind: "ok",
      status: 200,
      body: { a: 1 },
      etag: '"7"',
    }));

  test.each([204, 304])("%i is an answer without a body", async (status) =>
    expect(await answering(status, null).call()).toMatchObject({ kind: "ok", body: null }),
  );

  test("a refusal names field and remedy", async () => {
    const body = JSON.stringify({ status: 422, title: "Wrong unit", field: "unit", remedy: "use V" });
    expect(await answering(422, body, PROBLEM_TYPE).call()).toMatchObject({
      kind: "refused",
      problem: { field: "unit", remedy: "use V" },
    });
  });

  test("a token no longer good is signed out", async () =>
    expect(await answering(401, "{}", PROBLEM_TYPE).call()).toEqual({ kind: "signed_out" }));

  test.each([408, 429, 500, 502, 503, 504, 507])("%i means later, not refused", async (status) =>
    expect(await answering(status, "{}", PROBLEM_TYPE).call()).toMatchObject({ kind: "unreachable" }),
  );

  test("how long to wait is passed on", async () =>
    expect(await answering(503, "", { "Retry-After": "30" }).call()).toMatchObject({ waitS: 30 }));

  test.each([200, 403, 404])("a guest network's page with %i is not the service", async (status) =>
    expect(await answering(status, "<html>Sign in</html>", { "Content-Type": "text/html" }).call()).toMatchObject({
      kind: "unreachable",
    }),
  );

  test("a proxy's word that the picture is too large is a refusal, or it would be sent for ever", async () =>
    expect(await answering(413, "<html></html>", { "Content-Type": "text/html" }).call()).toMatchObject({
      kind: "refused",
      problem: { status: 413 },
    }));

  test("half a JSON answer is no answer", async () =>
    expect(await answering(200, '{"a":', JSON_TYPE).call()).toMatchObject({ kind: "unreachable" }));

  test("no connection and no answer in time are told apart, and neither throws", async () => {
    const broken = createNet({ token: () => null, fetch: () => Promise.reject(new TypeError("down")) });
    expect(await broken.call({ path: "/me" })).toMatchObject({ kind: "unreachable", why: "no connection" });
    const silent = createNet({
      token: () => null,
      limitMs: 5,
      fetch: (_input, init) =>
        new Promise((_, reject) => init?.signal?.addEventListener("abort", () => reject(init.signal?.reason as Error))),
    });
    expect(await silent.call({ path: "/me" })).toMatchObject({ kind: "unreachable", why: "no answer in time" });
  });
});
