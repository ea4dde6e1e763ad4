/** The sheets for a test or a cause of the shop's own, wired: typed words stay on the phone until the service has them. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";

import { likelyNow, signsNow, systemsNow } from "./app-advised";
import { askNow } from "./app-job";
import { keep, keptValue, letGo } from "./app-kept";
import { closeSheet, sheet } from "./app-sheet";
import { online, phone, say, troubleOf } from "./app-state";
import { newId } from "./model/ids";
import { EMPTY_OWN, OwnCauseSheet, OwnTestSheet, type OwnForm, type OwnSheetProps } from "./views/own-sheets";
import type { Trouble } from "./views/trouble";
import type { OwnCauseBody, OwnTestBody } from "./wire";
import { t } from "./texts";

type Kind = "test" | "cause";
type Kept = OwnForm & { key: string };

const isKept = (value: unknown): value is Partial<Kept> & { key: string } => typeof value === "object" && value !== null && "key" in value;

/** The key is made with the form: a second try after a lost answer does not double the entry. */
function started(kind: Kind): Kept {
  const signs = kind === "cause" ? signsNow() : [];
  return { ...EMPTY_OWN, symptoms: signs, key: newId(), ...keptValue(`own.${kind}`, isKept) };
}

const forms = signal<Partial<Record<Kind, Kept>>>({});
const sending = signal<{ busy: boolean; trouble: Trouble | null }>({ busy: false, trouble: null });

function change(kind: Kind, form: OwnForm): void {
  const kept = { ...form, key: newId() };
  forms.value = { ...forms.peek(), [kind]: kept };
  keep(`own.${kind}`, kept);
}

function done(kind: Kind, words: string): void {
  const { [kind]: _sent, ...others } = forms.peek();
  forms.value = others;
  letGo(`own.${kind}`);
  say({ text: words });
}

async function addTest(body: OwnTestBody, key: string): Promise<void> {
  sending.value = { busy: true, trouble: null };
  const answer = await phone.addOwnTest(body, key);
  sending.value = { busy: false, trouble: troubleOf(answer) };
  if (answer.kind !== "ok") return;
  done("test", t().app.addedEverybodyInTheShop);
  sheet.value = { kind: "test", test: answer.value.id };
  void askNow();
}

async function addCause(body: OwnCauseBody, key: string): Promise<void> {
  sending.value = { busy: true, trouble: null };
  const answer = await phone.addOwnCause(body, key);
  sending.value = { busy: false, trouble: troubleOf(answer) };
  if (answer.kind !== "ok") return;
  done("cause", t().app.addedItIsWeighedFrom);
  closeSheet();
  void askNow();
}

export function OwnSheet({ kind }: { kind: Kind }): JSX.Element {
  const form = forms.value[kind] ?? started(kind);
  const shared: OwnSheetProps = {
    form, trade: phone.trade.value, likely: likelyNow(), symptoms: signsNow(), systems: systemsNow(), online: online.value, ...sending.value, onForm: (next) => change(kind, next), onClose: closeSheet,
  };
  if (kind === "test") return <OwnTestSheet {...shared} onSave={(body) => void addTest(body, form.key)} />;
  return <OwnCauseSheet {...shared} onSave={(body) => void addCause(body, form.key)} />;
}
