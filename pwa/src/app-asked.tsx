/** What the office asks of this member: each fact answered by a tap or a number, saved like any change of a case. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { odometerUnit, phone, say } from "./app-state";
import { t } from "./texts";
import { AskedOfMe, type Answer } from "./views/asked";
import { anything } from "./wire";
import type { Asks, CaseChange } from "./wire";
import { parseAsks } from "./wire-office";

const asks = signal<Asks["asks"]>([]);

async function load(): Promise<void> {
  const answer = await phone.report("/asks", parseAsks);
  if (answer.kind === "ok") asks.value = answer.value.asks;
}

function change(fact: Answer["fact"], value: string): CaseChange {
  if (fact === "diagnosis minutes") return { labour: { diagnosis_min: Number(value) } };
  if (fact === "odometer") return { vehicle: { odometer: { value: Number(value), unit: odometerUnit.peek() } } };
  if (fact === "model") return { vehicle: { model: value } };
  if (fact === "verification") return { verification: value };
  return { correction: { action: value, component: null, text: "" } };
}

/** Out of sight at once; the change goes out as soon as there is signal. */
async function answer(id: string, given: Answer): Promise<void> {
  asks.value = asks.peek().map((one) => (one.case.id === id ? { ...one, facts: one.facts.filter((each) => each.fact !== given.fact) } : one)).filter((one) => one.facts.length > 0);
  if (given.value === null) await phone.send("POST", `/cases/${id}/asks/unknown`, { fact: given.fact }, anything);
  else {
    // A change is held against what the phone saw before it: a case that has not come yet comes first.
    if (!phone.cases.peek().some((each) => each.id === id)) await phone.syncNow();
    await phone.amendCase(id, change(given.fact, given.value));
  }
  say({ text: t().asks.thanks });
}

export function Asked(): JSX.Element | null {
  useEffect(() => void load(), []);
  return asks.value.length ? <AskedOfMe asks={asks.value} onAnswer={(id, given) => void answer(id, given)} /> : null;
}
