import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { amended, newDraft } from "../src/model/draft";
import { createPhone } from "../src/phone";
import type { Phone } from "../src/phone";
import { NOW, freshName } from "./bench";
import { FakeService, ME, problem } from "./fake-service";

let service: FakeService;
let phone: Phone;
let name: string;
let now = NOW;

/** The page's own windows are no part of this; only their events are listened to. */
beforeEach(async () => {
  vi.stubGlobal("window", new EventTarget());
  vi.stubGlobal("document", new EventTarget());
  vi.stubGlobal("BroadcastChannel", undefined);
  service = new FakeService();
  now = NOW;
  name = freshName();
  phone = await opened();
});
afterEach(async () => {
  await phone.stop();
  vi.unstubAllGlobals();
});

async function opened(format = 1): Promise<Phone> {
  const fresh = createPhone({ fetch: service.fetch as typeof fetch, dbName: name, now: () => now, format });
  await fresh.start();
  return fresh;
}
const draft = amended(newDraft("d1", NOW), { complaint: "rear washer runs by itself" }, NOW);
const offline = (): void => void (service.cut = () => "before");
const online = (): void => void (service.cut = () => "none");

describe("the phone", () => {
  test("joins with a code and fetches the shop's cases", async () => {
    service.put({ id: "a", state: "open", complaint: "no start" });
    expect(await phone.join("code-1234", "bay phone")).toMatchObject({
      kind: "ok",
      value: { shop: { name: "Bay Two" } },
    });
    await phone.syncNow();
    expect(phone.cases.value.map(({ id }) => id)).toEqual(["a"]);
    expect(phone.sync.value).toMatchObject({ link: "online", unsent: 0, lastSync: NOW.toISOString() });
  });

  test("takes a new token once a month, and keeps the old one where the answer gets lost", async () => {
    await phone.join("code-1234", "bay phone");
    await phone.syncNow();
    const asked = (): number => service.seen.filter(({ url }) => url.endsWith("/me/token")).length;
    const token = (): string | null => service.seen.at(-1)!.headers.get("Authorization");
    expect(asked()).toBe(0);
    now = new Date(NOW.getTime() + 31 * 86_400_000);
    service.cut = () => (service.seen.at(-1)!.url.endsWith("/me/token") ? "after" : "none");
    await phone.syncNow();
    expect([asked(), token()]).toEqual([1, "Bearer good"]);
    service.cut = () => "none";
    await phone.syncNow();
    await phone.syncNow();
    expect([asked(), token()]).toEqual([2, "Bearer good+"]);
    expect(phone.sync.value).toMatchObject({ link: "online" });
  });

  test("works a whole job without signal, over a restart, and sends it once", async () => {
    await phone.join("code-1234", "bay phone");
    await phone.syncNow();
    offline();
    await phone.saveDraft(draft);
    const id = await phone.openCase(draft);
    await phone.addReading(id, { quantity: "batt_rest", value: 12.1, unit: "volt" });
    await phone.addPhoto(id, new Blob(["jpeg"], { type: "image/jpeg" }), { note: "pin 3" });
    await phone.closeCase(id, {
      cause: "body.ground.corroded",
      correction: { action: "clean", component: null, text: "ground cleaned" },
    });
    await phone.stop();
    phone = await opened();
    expect(phone.cases.value[0]).toMatchObject({ id, state: "closed", unsent: 4, by: "Kit" });
    expect([phone.drafts.value, phone.sync.value.unsent]).toEqual([[], 4]);
    online();
    await phone.syncNow();
    expect(service.done.map((line) => line.replace(id, ":id"))).toEqual([
      "POST /cases",
      "POST /cases/:id/readings",
      "POST /cases/:id/photos",
      "POST /cases/:id/close",
    ]);
    expect(phone.cases.value[0]).toMatchObject({ state: "closed", unsent: 0 });
  });

  test("shows its own picture before it is sent", async () => {
    await phone.join("code-1234", "bay phone");
    offline();
    const id = await phone.openCase(draft);
    const picture = await phone.photo(id, await phone.addPhoto(id, new Blob(["jpeg"], { type: "image/jpeg" })));
    expect(picture.kind === "ok" && (await picture.value.text())).toBe("jpeg");
  });

  test("answers from its own memory when there is no signal, and says so", async () => {
    await phone.join("code-1234", "bay phone");
    service.put({
      id: "a",
      state: "closed",
      complaint: "rear washer runs with heated screen",
      cause_title: "Ground corroded",
    });
    await phone.syncNow();
    offline();
    const asked = await phone.ask(draft);
    expect(asked).toMatchObject({
      kind: "local",
      why: "no connection",
      found: [{ case: { id: "a" }, why: { words: ["rear", "washer", "run"] } }],
    });
  });

  test("a refused act can be mended and then goes", async () => {
    await phone.join("code-1234", "bay phone");
    service.refuse = (_method, path, body) =>
      path.endsWith("/readings") && body["unit"] === "psi" ? problem(422, "wrong unit") : null;
    const id = await phone.openCase(draft);
    await phone.addReading(id, { id: "r1", quantity: "batt_rest", value: 12, unit: "psi" });
    await phone.syncNow();
    const [stuck] = phone.outbox.value;
    expect(stuck).toMatchObject({ state: "parked", problem: { remedy: "mend it" } });
    await phone.mend(stuck?.key ?? "", {
      do: "reading",
      body: { id: "r1", quantity: "batt_rest", value: 12, unit: "volt" },
    });
    await phone.syncNow();
    expect(phone.outbox.value).toEqual([]);
    expect(service.cases.get(id)?.readings).toMatchObject([{ id: "r1", unit: "volt" }]);
  });

  test("sending a clashing change again keeps the member's own", async () => {
    await phone.join("code-1234", "bay phone");
    service.put({ id: "a", state: "open", complaint: "no start", note: "old" });
    await phone.syncNow();
    offline();
    await phone.amendCase("a", { note: "mine" });
    service.put({ id: "a", state: "open", complaint: "no start", note: "theirs" });
    online();
    await phone.syncNow();
    await phone.syncNow();
    expect(phone.outbox.value).toMatchObject([{ state: "parked", problem: { field: "note" } }]);
    await phone.retry(phone.outbox.value[0]?.key ?? "");
    await phone.syncNow();
    expect(service.cases.get("a")?.note).toBe("mine");
  });

  test("giving way leaves theirs and sends what else was changed", async () => {
    await phone.join("code-1234", "bay phone");
    service.put({ id: "a", state: "open", complaint: "no start", codes: [] });
    await phone.syncNow();
    offline();
    await phone.amendCase("a", { complaint: "no start when hot", codes: ["P0303"] });
    service.put({ id: "a", state: "open", complaint: "no crank", codes: [] });
    online();
    await phone.syncNow();
    const [entry] = phone.outbox.value;
    expect(entry).toMatchObject({ state: "parked", problem: { field: "complaint" } });
    await phone.giveWay(entry?.key ?? "");
    await phone.syncNow();
    expect(service.cases.get("a")).toMatchObject({ complaint: "no crank", codes: ["P0303"] });
    expect(phone.outbox.value).toEqual([]);
  });

  test("a sheet saved as it was opened sends nothing, so it writes over nobody", async () => {
    await phone.join("code-1234", "bay phone");
    service.put({ id: "a", state: "open", complaint: "no start", note: "old" });
    await phone.syncNow();
    await phone.amendCase("a", { complaint: "no start", note: "old" });
    expect(phone.outbox.value).toEqual([]);
  });

  test("two phones putting one value right are asked which stays", async () => {
    await phone.join("code-1234", "bay phone");
    const reading = { id: "r1", quantity: "batt_rest", value: 12.1, unit: "volt" };
    service.put({ id: "a", state: "open", complaint: "no start", readings: [reading] });
    await phone.syncNow();
    offline();
    await phone.changeStep("a", "readings", "r1", { value: 12.3 });
    service.put({ id: "a", state: "open", complaint: "no start", readings: [{ ...reading, value: 12.5 }] });
    online();
    await phone.syncNow();
    const [entry] = phone.outbox.value;
    expect([entry?.problem?.field, service.cases.get("a")?.readings[0]?.value]).toEqual(["value", 12.5]);
    await phone.retry(entry?.key ?? "");
    await phone.syncNow();
    expect(service.cases.get("a")?.readings[0]?.value).toBe(12.3);
  });

  test("older than the service, says so, keeps all it wrote, still fetches, and sends it once updated", async () => {
    await phone.join("code-1234", "bay phone");
    await phone.syncNow();
    service.least = 2;
    const id = await phone.openCase(draft);
    await phone.addReading(id, { quantity: "batt_rest", value: 12.1, unit: "volt" });
    service.put({ id: "b", state: "open", complaint: "of another phone" });
    await phone.syncNow();
    await phone.syncNow();
    expect(phone.outdated.value).toBe(true);
    expect(phone.outbox.value.map(({ state }) => state)).toEqual(["queued", "queued"]);
    expect(phone.cases.value.map(({ complaint }) => complaint)).toContain("of another phone");
    expect([service.done, phone.sync.value.link]).toEqual([[], "online"]);
    await phone.stop();
    phone = await opened(2);
    await phone.syncNow();
    expect([phone.outdated.value, phone.outbox.value]).toEqual([false, []]);
    expect(service.done).toEqual(["POST /cases", `POST /cases/${id}/readings`]);
  });

  test("locked out by the shop, gives what was never sent as a file, pictures too, until it is let go", async () => {
    await phone.join("code-1234", "bay phone");
    offline();
    const id = await phone.openCase(draft);
    await phone.addPhoto(id, new Blob(["jpeg"], { type: "image/jpeg" }));
    await phone.letGoUnsent();
    expect(phone.outbox.value).toHaveLength(2);
    service.token = "another";
    online();
    await phone.syncNow();
    const file = JSON.parse(await (await phone.unsentFile()).text()) as { acts: unknown[] };
    expect(file.acts).toMatchObject([{ do: "open", case: id, body: { complaint: draft.complaint } }, { do: "photo", base64: btoa("jpeg") }]);
    await phone.letGoUnsent();
    expect([phone.outbox.value, phone.drafts.value]).toEqual([[], []]);
  });

  test("readings given with the closing are taken after the correction", async () => {
    await phone.join("code-1234", "bay phone");
    offline();
    const id = await phone.openCase(draft);
    await phone.closeCase(id, { cause: "x", readings: [{ quantity: "batt_rest", value: 12.7, unit: "volt" }] });
    expect(phone.outbox.value.at(-1)?.act).toMatchObject({ do: "close", body: { readings: [{ when: "after" }] } });
    expect(phone.cases.value[0]?.verified).toBe(true);
  });

  test("does not sign out over unsent work unless told to", async () => {
    await phone.join("code-1234", "bay phone");
    offline();
    await phone.openCase(draft);
    expect(await phone.signOut()).toBe(false);
    expect(phone.me.value?.member.name).toBe(ME.member.name);
    expect(await phone.signOut({ discardUnsent: true })).toBe(true);
    expect([phone.me.value, phone.cases.value, phone.sync.value.unsent]).toEqual([null, [], 0]);
  });

  test("nothing can be written before it is joined", async () => {
    await expect(phone.openCase(draft)).rejects.toThrow("not joined");
  });
});
