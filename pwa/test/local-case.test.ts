import { describe, expect, test } from "vitest";
import { localCases } from "../src/model/local-case";
import { newEntry, parked } from "../src/model/outbox";
import type { Act, Entry } from "../src/model/outbox";
import { parseProblem, read } from "../src/wire";
import { NOW, OWNER, aCase, openAct, readingAct, testAct } from "./bench";

const entries = (...acts: readonly (readonly [string, Act])[]): readonly Entry[] =>
  acts.map(([caseId, act], seq) => ({ ...newEntry(caseId, act, { key: `k${seq}`, owner: OWNER, now: NOW }), seq }));
const one = (...acts: readonly Act[]) =>
  localCases([aCase()], entries(...acts.map((act) => ["c1", act] as const)), "Kit")[0];

describe("the phone shows its own writes at once", () => {
  test("a case opened without signal, with its steps, under the member's name", () => {
    const [fresh] = localCases(
      [],
      entries(["n1", openAct("n1")], ["n1", testAct("t1")], ["n1", readingAct("r1")]),
      "Kit",
    );
    expect(fresh).toMatchObject({
      id: "n1",
      state: "open",
      unsent: 3,
      by: "Kit",
      tests: [{ id: "t1", by: "Kit" }],
      readings: [{ id: "r1" }],
    });
  });

  test("a step stored at the service but not yet answered is shown once", () => {
    const stored = aCase({ tests: [{ id: "t1", test: "batt_rest_check", outcome: "ok" }] });
    expect(localCases([stored], entries(["c1", testAct("t1")]), "Kit")[0]?.tests).toHaveLength(1);
  });

  test("a closing with an after reading counts as verified", () => {
    const readings = [{ id: "r9", quantity: "batt_rest", value: 12.7, unit: "volt" }];
    const shut = one({
      do: "close",
      body: { cause: "starting.battery.weak", correction: "battery replaced", readings },
    });
    expect(shut).toMatchObject({
      state: "closed",
      verified: true,
      correction: { text: "battery replaced" },
      readings: [{ when: "after" }],
    });
  });

  test("a closing without any proof does not", () =>
    expect(one({ do: "close", body: { cause: "x" } })?.verified).toBe(false));

  test("a closing without a cause is unresolved with its reason", () =>
    expect(one({ do: "close", body: { unresolved: "declined" } })).toMatchObject({
      state: "unresolved",
      unresolved_reason: "declined",
      cause: null,
    }));

  test("a comeback is a new case, linked both ways, and the old one loses its proof", () => {
    const act: Act = { do: "reopen", body: { id: "n2", complaint: "slow again" } };
    const cases = localCases(
      [aCase({ state: "closed", verified: true })],
      entries(["c1", act], ["n2", testAct("t1")]),
      "Kit",
    );
    const [old, fresh] = [cases.find(({ id }) => id === "c1"), cases.find(({ id }) => id === "n2")];
    expect(fresh).toMatchObject({ comeback_of: "c1", complaint: "slow again", state: "open", tests: [{ id: "t1" }] });
    expect(old).toMatchObject({ returned_as: ["n2"], verified: false });
  });

  test("changes, part results and undone steps are laid over in order", () => {
    const part: Act = {
      do: "part",
      body: { id: "p1", component: "starting.battery", source: "aftermarket", price: 90 },
    };
    const shown = one(
      part,
      { do: "part result", step: "p1", change: { result: "cured" } },
      testAct("t1"),
      { do: "undo", step: "t1" },
      { do: "amend", change: { vehicle: { make: "Tarrow" } }, before: {} },
    );
    expect(shown).toMatchObject({
      parts: [{ result: "cured", price: 90 }],
      tests: [],
      vehicle: { make: "Tarrow", model: "" },
      unsent: 5,
    });
  });

  test("a repair, a test left out and an objection are there at once, and go when taken back", () => {
    const said: readonly Act[] = [
      { do: "repair", body: { id: "r1", cause: "x", result: "partly", note: "still ticks" } },
      { do: "skip", body: { id: "s1", test: "compression", because: "no tool" } },
      { do: "object", body: { id: "o1", cause: "y", because: "already renewed" } },
    ];
    expect(one(...said)).toMatchObject({
      repairs: [{ id: "r1", result: "partly", note: "still ticks", minutes: null, by: "Kit" }],
      skipped: [{ id: "s1", test: "compression", because: "no tool", by: "Kit" }],
      objections: [{ id: "o1", cause: "y", because: "already renewed", by: "Kit" }],
    });
    const back: readonly Act[] = ["r1", "s1", "o1"].map((step) => ({ do: "undo", step }));
    expect(one(...said, ...back)).toMatchObject({ repairs: [], skipped: [], objections: [], unsent: 6 });
  });

  test("a step put right keeps who did it and when", () => {
    const right: readonly Act[] = [
      { do: "step change", of: "tests", step: "t1", change: { outcome: "low" } },
      { do: "step change", of: "readings", step: "r1", change: { value: 11.4 } },
    ];
    expect(one(testAct("t1"), readingAct("r1"), ...right)).toMatchObject({
      tests: [{ outcome: "low", minutes: 4, by: "Kit", at: NOW.toISOString() }],
      readings: [{ value: 11.4, unit: "volt", by: "Kit" }],
    });
  });

  test("a deleted case is gone, and back when the service refused", () => {
    const [gone] = entries(["c1", { do: "delete" }]);
    expect(localCases([aCase()], [gone as Entry], "Kit")).toEqual([]);
    const refused = parked(gone as Entry, read(parseProblem, { status: 403 }));
    expect(localCases([aCase()], [refused], "Kit")).toMatchObject([{ id: "c1", parked: 1 }]);
  });

  test("a picture is listed before it is sent", () =>
    expect(
      one({ do: "photo", photo: { id: "f1", type: "image/jpeg", bytes: 9, note: "pin 3", step: null } })?.photos,
    ).toMatchObject([{ id: "f1", note: "pin 3" }]));

  test("the last touched comes first", () => {
    const old = aCase({ id: "c2", updated: "2026-03-01T00:00:00Z" });
    expect(
      localCases([old, aCase({ updated: "2026-02-01T00:00:00Z" })], entries(["c1", testAct("t1")]), "Kit").map(
        ({ id }) => id,
      ),
    ).toEqual(["c1", "c2"]);
  });
});
