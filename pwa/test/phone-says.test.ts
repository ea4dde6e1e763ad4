import "fake-indexeddb/auto";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { amended, newDraft } from "../src/model/draft";
import { createPhone } from "../src/phone";
import type { Phone } from "../src/phone";
import { NOW, freshName } from "./bench";
import { FakeService } from "./fake-service";

let service: FakeService;
let phone: Phone;

beforeEach(async () => {
  vi.stubGlobal("window", new EventTarget());
  vi.stubGlobal("document", new EventTarget());
  vi.stubGlobal("BroadcastChannel", undefined);
  service = new FakeService();
  phone = createPhone({ fetch: service.fetch as typeof fetch, dbName: freshName(), now: () => NOW });
  await phone.start();
  await phone.join("code-1234", "bay phone");
  await phone.syncNow();
});
afterEach(async () => {
  await phone.stop();
  vi.unstubAllGlobals();
});

const words = { complaint: "cranks slow when hot", shows_when: ["hot"] };
const draft = amended(newDraft("d1", NOW), words, NOW);
const cutOff = (cut: boolean): void => void (service.cut = () => (cut ? "before" : "none"));

/** The body of the last question the service saw. */
async function lastQuestion(): Promise<unknown> {
  const asked = service.seen.findLast((one) => one.url.endsWith("/advice"));
  return asked ? JSON.parse(await asked.text()) : null;
}

describe("what a member says beside the tests", () => {
  test("waits without signal and arrives once, in order", async () => {
    cutOff(true);
    const id = await phone.openCase(draft);
    await phone.skipTest(id, { test: "compression", because: "no tool" });
    await phone.object(id, { cause: "starting.battery.weak", because: "already renewed" });
    const repair = await phone.addRepair(id, { cause: "starting.cable.loose", result: "no change" });
    await phone.undoStep(id, repair);
    cutOff(false);
    await phone.syncNow();
    expect(service.done.map((line) => line.replace(id, ":id").replace(repair, ":step"))).toEqual([
      "POST /cases",
      "POST /cases/:id/skips",
      "POST /cases/:id/objections",
      "POST /cases/:id/repairs",
      "DELETE /cases/:id/steps/:step",
    ]);
    expect(service.cases.get(id)).toMatchObject({ skipped: [{ because: "no tool" }], shows_when: ["hot"] });
  });

  test("is part of the question while it is unsent", async () => {
    service.refuse = (_method, path) => (path.endsWith("/skips") ? { status: 503 } : null);
    const id = await phone.openCase(draft);
    await phone.skipTest(id, { test: "compression", because: "no access" });
    await phone.object(id, { cause: "x", because: "proved good" });
    await phone.addRepair(id, { cause: "y", result: "partly", note: "still slow" });
    await phone.askCase(id);
    expect(await lastQuestion()).toMatchObject({
      skipped: [{ test: "compression", because: "no access" }],
      objections: [{ cause: "x", because: "proved good" }],
      repairs: [{ cause: "y", result: "partly", note: "still slow" }],
      shows_when: ["hot"],
    });
  });

  test("can be put right after it was sent", async () => {
    const id = await phone.openCase(draft);
    const step = await phone.addTest(id, { test: "drop", outcome: "ok" });
    await phone.syncNow();
    await phone.changeStep(id, "tests", step, { outcome: "high" });
    await phone.syncNow();
    expect(service.cases.get(id)?.tests).toMatchObject([{ id: step, outcome: "high" }]);
  });
});

describe("the shop's own lists", () => {
  const own = { title: "Pull the carpet", system: "body_electrics", minutes: 5, points_at: ["body.ground.corroded"] };

  test("an own test is on this phone's list when the call returns", async () => {
    const answer = await phone.addOwnTest(own, "key-1");
    expect(answer).toMatchObject({ kind: "ok", value: { id: "own.pull_the_carpet", own: true } });
    expect(phone.trade.value.tests.map(({ id }) => id)).toEqual(["own.pull_the_carpet"]);
  });

  test("a second try with the same key does not double it", async () => {
    service.cut = () => (service.own["tests"] ? "none" : "after");
    expect((await phone.addOwnTest(own, "key-1")).kind).toBe("unreachable");
    expect((await phone.addOwnTest(own, "key-1")).kind).toBe("ok");
    expect(phone.trade.value.tests).toHaveLength(1);
  });

  test("without signal it is said, and nothing is on the list", async () => {
    cutOff(true);
    expect((await phone.addOwnCause({ title: "Nest", system: "hvac", symptoms: ["x"] }, "key-2")).kind).toBe("unreachable");
    expect(phone.trade.value.causes).toEqual([]);
  });
});
