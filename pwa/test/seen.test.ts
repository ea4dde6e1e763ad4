import { expect, test } from "vitest";
import { createNet } from "../src/net";

type Answer = readonly [status: number, body: object];
const BEHIND: Answer = [503, { type: "/problems/behind", status: 503, title: "Behind" }];
const OK: Answer = [200, {}];

/** A service that answers in turn, and what each request said it had seen. */
function phone(...answers: readonly Answer[]) {
  const said: (string | null)[] = [];
  const shop = { token: "one", at: 0 };
  const fetch = async (_: unknown, init?: RequestInit): Promise<Response> => {
    const [status, body] = answers[said.length] ?? OK;
    said.push(new Headers(init?.headers).get("Baylore-Seen"));
    return new Response(JSON.stringify(body), { status, headers: { "Content-Type": "application/json" } });
  };
  const net = createNet({ token: () => shop.token, now: () => shop.at, fetch: fetch as typeof globalThis.fetch });
  return { said, shop, ask: (seen?: number) => net.call({ path: "/advice", ...(seen !== undefined && { seen }) }) };
}

test("the newest change answered goes along with the next question", async () => {
  const { said, ask } = phone([200, { revision: 7 }], [200, { revision: 5 }]);
  await ask();
  await ask();
  await ask();
  expect(said).toEqual([null, "7", "7"]);
});

test("what the copy holds was seen too", async () => {
  const { said, ask } = phone();
  await ask(12);
  await ask();
  expect(said).toEqual(["12", "12"]);
});

test("of another shop's changes nothing was seen", async () => {
  const { said, shop, ask } = phone([200, { revision: 7 }]);
  await ask();
  shop.token = "two";
  await ask();
  expect(said).toEqual([null, null]);
});

test("a store that is behind for a moment is asked again the same way", async () => {
  const { said, shop, ask } = phone([200, { revision: 7 }], BEHIND);
  await ask();
  expect(await ask()).toMatchObject({ kind: "unreachable" });
  shop.at = 2_000;
  await ask();
  expect(said).toEqual([null, "7", "7"]);
});

test("a store that stays behind was put back, and is asked anew, whatever the copy holds", async () => {
  const { said, shop, ask } = phone([200, { revision: 7 }], BEHIND, BEHIND);
  await ask();
  await ask();
  shop.at = 61_000;
  await ask();
  await ask(7);
  expect(said).toEqual([null, "7", "7", null]);
});

test("a service that is busy is not behind", async () => {
  const { said, shop, ask } = phone([200, { revision: 7 }], [503, { type: "/problems/busy" }], [503, { type: "/problems/busy" }]);
  for (const at of [0, 0, 90_000, 90_000]) {
    shop.at = at;
    await ask();
  }
  expect(said).toEqual([null, "7", "7", "7"]);
});
