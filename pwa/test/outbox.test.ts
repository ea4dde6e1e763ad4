import { describe, expect, test } from "vitest";
import { mended, newEntry, parked, queued, sendable, sending, toSend } from "../src/model/outbox";
import type { Act, Entry } from "../src/model/outbox";
import { parseProblem, read } from "../src/wire";
import { NOW, OWNER, openAct, testAct } from "./bench";
import { chance } from "./fake-service";

const PROBLEM = read(parseProblem, { status: 422, title: "Wrong" });
const entry = (seq: number, caseId: string, act: Act = testAct(`t${seq}`)): Entry => ({
  ...newEntry(caseId, act, { key: `k${seq}`, owner: OWNER, now: NOW }),
  seq,
});

describe("what may be sent", () => {
  test("goes oldest first", () =>
    expect(sendable([entry(2, "a"), entry(1, "b")]).map(({ seq }) => seq)).toEqual([1, 2]));

  test("waits behind a refused act of its case only", () => {
    const queue = [parked(entry(1, "a"), PROBLEM), entry(2, "a"), entry(3, "b")];
    expect(sendable(queue).map(({ seq }) => seq)).toEqual([3]);
  });

  test("a refused comeback holds the case it would have made", () => {
    const reopen = parked(entry(1, "a", { do: "reopen", body: { id: "n" } }), PROBLEM);
    expect(sendable([reopen, entry(2, "n"), entry(3, "z")]).map(({ seq }) => seq)).toEqual([3]);
  });

  test("an act being sent when the page died goes again", () =>
    expect(sendable([sending(entry(1, "a"))])).toHaveLength(1));

  test("never lets an act overtake an earlier one of its case", () => {
    const random = chance(8);
    for (let run = 0; run < 100; run += 1) {
      const queue = Array.from({ length: 12 }, (_, seq) => {
        const fresh = entry(seq, "abc"[Math.floor(random() * 3)] ?? "a");
        return random() < 0.2 ? parked(fresh, PROBLEM) : fresh;
      });
      for (const free of sendable(queue)) {
        const earlier = queue.filter((one) => one.caseId === free.caseId && one.seq < free.seq);
        expect(earlier.every((one) => one.state !== "parked")).toBe(true);
      }
    }
  });
});

describe("an entry", () => {
  test("keeps its key through tries, and gets a new one only when its words change", () => {
    const tried = queued(sending(sending(entry(1, "a"))));
    expect(tried).toMatchObject({ key: "k1", tries: 2, state: "queued" });
    expect(mended(parked(tried, PROBLEM), testAct("t9"), "k9")).toMatchObject({
      key: "k9",
      state: "queued",
      problem: null,
    });
  });

  test.each<[Act, string]>([
    [openAct("a"), "POST /cases"],
    [{ do: "amend", change: {}, before: {} }, "PATCH /cases/a"],
    [{ do: "repair", body: { id: "r", cause: "x", result: "cured" } }, "POST /cases/a/repairs"],
    [{ do: "skip", body: { id: "s", test: "x", because: "no tool" } }, "POST /cases/a/skips"],
    [{ do: "object", body: { id: "o", cause: "x", because: "proved good" } }, "POST /cases/a/objections"],
    [{ do: "step change", of: "tests", step: "t1", change: { outcome: "ok" } }, "PATCH /cases/a/tests/t1"],
    [{ do: "step change", of: "readings", step: "r1", change: { value: 12 } }, "PATCH /cases/a/readings/r1"],
    [{ do: "delete" }, "DELETE /cases/a"],
    [testAct("t"), "POST /cases/a/tests"],
    [{ do: "part result", step: "p", change: {} }, "PATCH /cases/a/parts/p"],
    [{ do: "undo", step: "s" }, "DELETE /cases/a/steps/s"],
    [
      { do: "photo", photo: { id: "f", type: "image/png", bytes: 1, note: "pin 3 & 4", step: "t" } },
      "POST /cases/a/photos?id=f&step=t&note=pin+3+%26+4",
    ],
    [{ do: "close", body: {} }, "POST /cases/a/close"],
    [{ do: "reopen", body: { id: "n" } }, "POST /cases/a/reopen"],
  ])("%j goes to %s", (act, address) => {
    const { method, path } = toSend(entry(1, "a", act));
    expect(`${method} ${path}`).toBe(address);
  });

  test("says a revision only where an update needs one", () => {
    const needing = [
      openAct("a"),
      testAct("t"),
      { do: "amend", change: {}, before: {} } as const,
      { do: "delete" } as const,
    ];
    expect(needing.map((act) => toSend(entry(1, "a", act)).needsRevision)).toEqual([false, false, true, true]);
  });
});
