import { describe, expect, test } from "vitest";
import { NOW, OWNER, bench, openAct, readingAct, testAct } from "./bench";
import type { Bench } from "./bench";
import { waitMs } from "../src/sync";
import { FakeService, chance, problem } from "./fake-service";
import { webLocks } from "../src/locks";
import { newEntry } from "../src/model/outbox";

async function runUntilEmpty(start: Bench, most = 400): Promise<Bench> {
  let phone = start;
  for (let tries = 0; tries < most && (await phone.db.unsent()) > 0; tries += 1) {
    if (tries % 3 === 2) phone = await phone.restart();
    await phone.run();
  }
  return phone;
}

async function aJob(phone: Bench, id: string): Promise<void> {
  await phone.save(id, openAct(id));
  await phone.save(id, testAct(`${id}-t1`));
  await phone.save(id, readingAct(`${id}-r1`));
  await phone.save(id, testAct(`${id}-t2`));
  await phone.save(id, {
    do: "close",
    body: {
      cause: "starting.battery.weak",
      correction: { action: "replace", component: null, text: "battery replaced" },
    },
  });
}

describe("a case arrives once", () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8])("whatever is cut and whenever the page dies (chances %i)", async (seed) => {
    const service = new FakeService();
    const random = chance(seed);
    const phone = await bench({ service });
    await aJob(phone, "a");
    await aJob(phone, "b");
    service.cut = () => (random() < 0.3 ? "before" : random() < 0.5 ? "after" : "none");
    const after = await runUntilEmpty(phone);
    service.cut = () => "none";
    await after.run();
    expect(await after.db.unsent()).toBe(0);
    expect(service.done).toHaveLength(10);
    for (const id of ["a", "b"]) {
      const stored = service.cases.get(id);
      expect(stored?.tests.map((step) => step.id)).toEqual([`${id}-t1`, `${id}-t2`]);
      expect(stored?.readings.map((step) => step.id)).toEqual([`${id}-r1`]);
      expect(stored?.state).toBe("closed");
      expect(await after.db.case(id)).toEqual(stored);
    }
  });

  test("when the answer is lost the same key is sent again and nothing is stored twice", async () => {
    const phone = await bench();
    await phone.save("a", openAct("a"), "key-1");
    phone.service.cut = () => "after";
    await phone.run();
    expect((await phone.db.outbox())[0]).toMatchObject({ state: "queued", tries: 1, key: "key-1" });
    phone.service.cut = () => "none";
    await phone.run();
    expect(phone.service.done).toEqual(["POST /cases"]);
    expect(await phone.db.unsent()).toBe(0);
  });

  test("two pages over one store send one at a time", async () => {
    const service = new FakeService();
    const locks = webLocks();
    const one = await bench({ service, name: "shared", locks });
    const two = await bench({ service, name: "shared", locks });
    await aJob(one, "a");
    await Promise.all([one.run(), two.run(), one.run()]);
    expect(service.done).toHaveLength(5);
    expect(service.seen.filter((request) => request.method !== "GET")).toHaveLength(5);
  });

  test("though the phone's clock runs ahead of the service's", async () => {
    const phone = await bench();
    phone.service.refuse = (_method, _path, body) =>
      body["opened"] ? problem(422, "lies in the future", { field: "opened" }) : null;
    await phone.save("a", { do: "open", body: { id: "a", complaint: "no start", opened: "2031-01-01T00:00:00Z" } });
    await phone.run();
    expect([await phone.db.unsent(), phone.service.done]).toEqual([0, ["POST /cases"]]);
  });

  test("an opening whose receipt was thrown away counts as stored, for its id is the phone's own", async () => {
    const phone = await bench();
    await phone.save("a", openAct("a"));
    phone.service.put({ ...openAct("a"), id: "a", state: "open", complaint: "cranks slow when hot" });
    await phone.run();
    expect(await phone.db.unsent()).toBe(0);
  });
});

describe("a refused act", () => {
  const noReadings = (method: string, path: string) =>
    method === "POST" && path.endsWith("/readings") ? problem(422, "unknown unit", { field: "unit" }) : null;

  test("is parked with field and remedy, and is not sent again by itself", async () => {
    const phone = await bench();
    phone.service.refuse = noReadings;
    await phone.save("a", openAct("a"));
    await phone.save("a", readingAct("r1"));
    await phone.run();
    await phone.run();
    expect(await phone.db.outbox()).toMatchObject([
      { state: "parked", tries: 1, problem: { field: "unit", remedy: "mend it" } },
    ]);
  });

  test("holds back the later acts on its case and no other case", async () => {
    const phone = await bench();
    phone.service.refuse = noReadings;
    await phone.save("a", openAct("a"));
    await phone.save("a", readingAct("r1"));
    await phone.save("a", testAct("t1"));
    await phone.save("b", openAct("b"));
    await phone.run();
    expect(phone.service.done).toEqual(["POST /cases", "POST /cases"]);
    expect((await phone.db.outbox()).map((entry) => entry.state)).toEqual(["parked", "queued"]);
  });
});

describe("changing a case", () => {
  const amend = (before: string) => ({ do: "amend", change: { note: "mine" }, before: { note: before } }) as const;

  test("goes through when others changed other fields meanwhile", async () => {
    const phone = await bench();
    phone.service.put({ id: "a", state: "open", complaint: "no start", note: "old" });
    await phone.run();
    await phone.save("a", amend("old"));
    phone.service.put({ id: "a", state: "open", complaint: "no start, hot", note: "old" });
    await phone.run();
    expect(phone.service.cases.get("a")).toMatchObject({ complaint: "no start, hot", note: "mine" });
  });

  test("is parked when others changed the same field, and neither is lost", async () => {
    const phone = await bench();
    phone.service.put({ id: "a", state: "open", complaint: "no start", note: "old" });
    await phone.run();
    await phone.save("a", amend("old"));
    phone.service.put({ id: "a", state: "open", complaint: "no start", note: "theirs" });
    await phone.run();
    expect(phone.service.cases.get("a")?.note).toBe("theirs");
    expect((await phone.db.outbox())[0]).toMatchObject({ state: "parked", problem: { field: "note" } });
  });

  test("twice in a row offline arrives as the last one", async () => {
    const phone = await bench();
    phone.service.put({ id: "a", state: "open", complaint: "no start", note: "old" });
    await phone.run();
    await phone.save("a", { do: "amend", change: { note: "first" }, before: { note: "old" } });
    await phone.save("a", { do: "amend", change: { note: "second" }, before: { note: "first" } });
    await phone.run();
    expect(phone.service.cases.get("a")?.note).toBe("second");
    expect(await phone.db.unsent()).toBe(0);
  });

  test("deleting what is already gone counts as done", async () => {
    const phone = await bench();
    await phone.save("a", { do: "delete" });
    await phone.run();
    expect(await phone.db.unsent()).toBe(0);
  });
});

describe("following the service", () => {
  test("fetches every change page by page and drops deleted cases", async () => {
    const phone = await bench();
    for (let n = 0; n < 450; n += 1) phone.service.put({ id: `c${n}`, state: "open", complaint: `fault ${n}` });
    phone.service.cases.delete("c7");
    phone.service.log.push({ seq: 451, id: "c7", op: "delete" });
    await phone.run();
    expect(await phone.db.cases()).toHaveLength(449);
    expect(await phone.db.meta("cursor")).toBe(451);
  });

  test("starts over when the service was put back to an older state", async () => {
    const phone = await bench();
    await phone.db.applyChanges([], 90);
    phone.service.put({ id: "a", state: "open", complaint: "no start" });
    await phone.run();
    expect((await phone.db.cases()).map((one) => one.id)).toEqual(["a"]);
    expect(await phone.db.meta("cursor")).toBe(1);
  });

  test("a device no longer known loses the shop's data and keeps what was not sent", async () => {
    const phone = await bench();
    phone.service.put({ id: "a", state: "open", complaint: "no start" });
    await phone.run();
    await phone.save("b", openAct("b"));
    phone.service.token = "other";
    await phone.run();
    expect(await phone.db.cases()).toEqual([]);
    expect(await phone.db.unsent()).toBe(1);
    expect(phone.states).toContainEqual({ link: "signed out", trouble: "" });
  });

  test("never sends another member's acts", async () => {
    const phone = await bench();
    const owner = { ...OWNER, member: "m2" };
    await phone.db.enqueue([newEntry("b", openAct("b"), { key: "k", owner, now: NOW })]);
    await phone.run();
    expect(phone.service.done).toEqual([]);
    expect(await phone.db.unsent()).toBe(1);
  });

  test("fetches what it reckons with anew when the shop's tuning has changed", async () => {
    const phone = await bench();
    await phone.run();
    const asked = (): number => phone.service.seen.filter(({ url }) => url.includes("/api/reasoning/")).length;
    const before = asked();
    phone.service.log.push({ seq: phone.service.log.length + 1, id: "tuning", op: "put", kind: "tuning" });
    await phone.run();
    expect(asked()).toBe(2 * before);
  });

  test("is in step though what it reckons with by itself cannot be had", async () => {
    const phone = await bench();
    phone.service.broken = /^\/reasoning\//;
    await phone.run();
    expect(phone.states.some(({ link }) => link === "online")).toBe(true);
    expect(phone.states.some(({ link }) => link === "offline")).toBe(false);
  });

  test("says what is wrong and keeps everything while unreachable", async () => {
    const phone = await bench();
    await phone.save("a", openAct("a"));
    phone.service.cut = () => "before";
    await phone.run();
    expect(phone.states).toContainEqual({ link: "offline", trouble: "no connection" });
    expect(await phone.db.unsent()).toBe(1);
  });
});

describe("the wait before the next round", () => {
  const down = { kind: "unreachable", why: "", waitS: null } as const;
  test("grows with failures in a row up to an end", () => {
    const waits = [1, 2, 3, 20].map((failures) => waitMs(down, failures));
    expect(waits).toEqual([...waits].sort((a, b) => a - b));
    expect(new Set(waits.slice(0, 3)).size).toBe(3);
    expect(waitMs(down, 500)).toBe(waits[3]);
  });
  test("is never shorter than the service asks", () => expect(waitMs({ ...down, waitS: 900 }, 1)).toBe(900_000));
});

test("lists are asked for once an hour, however often the app is opened", async () => {
  const service = new FakeService();
  const asked: string[] = [];
  const answer = service.fetch as typeof globalThis.fetch;
  Object.assign(service, { fetch: (...given: Parameters<typeof globalThis.fetch>) => (asked.push(String(given[0])), answer(...given)) });
  const phone = await bench({ service });
  await phone.run();
  expect(asked.filter((path) => path.includes("/trade/")).length).toBeGreaterThan(5);
  asked.length = 0;
  const opened = await phone.restart();
  await opened.run();
  expect(asked.filter((path) => path.includes("/trade/"))).toEqual([]);
  expect(asked.some((path) => path.includes("/changes"))).toBe(true);
  await opened.db.setMeta("listsAsked", { at: NOW.toISOString(), build: "of another app" });
  await opened.run();
  expect(asked.filter((path) => path.includes("/trade/")).length).toBeGreaterThan(5);
});
