/** A part tried: what, from where, for how much, and what it did. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { numberTyped } from "../model/typed-number";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { Select, Switch, TextField } from "../ui/field";
import { Shape } from "../ui/shape";
import { Sheet } from "../ui/sheet";
import { RESULTS, SOURCES, type PartBody, type PartResult, type PartsReport, type SourceKind, type Trade } from "../wire";
import { PartMemory } from "./part-memory";
import { named, titleOf } from "./words";
import { t } from "../texts";

interface PartSheetProps {
  trade: Trade;
  component: string;
  systems: readonly string[];
  report: PartsReport | null;
  currency: string;
  onSave: (part: PartBody) => void;
  onClose: () => void;
}

export const NOT_YET = "not known yet";
const choice = (value: string) => ({ value, get label() { return named(value); } });
export const resultChoices = [NOT_YET, ...RESULTS].map(choice);
const sourceChoices = SOURCES.map(choice);

/** A typed price; null is empty, undefined is not a price. */
function priceFrom(text: string): number | null | undefined {
  if (text.trim() === "") return null;
  const price = numberTyped(text);
  return price !== null && price >= 0 ? price : undefined;
}

function componentChoices({ trade, systems, component }: PartSheetProps): { value: string; label: string }[] {
  const near = (system: string): number => (systems.includes(system) ? 0 : 1);
  const listed = [...trade.components].sort((a, b) => near(a.system) - near(b.system));
  const choices = listed.map((each) => ({ value: each.id, label: `${each.title} (${titleOf(trade.systems, each.system).toLowerCase()})` }));
  const known = choices.some((each) => each.value === component) || component === "";
  return [{ value: "", label: t().partSheet.choose }, ...(known ? [] : [{ value: component, label: titleOf([], component) }]), ...choices];
}

export function PartSheet(props: PartSheetProps): JSX.Element {
  const [component, setComponent] = useState(props.component);
  const [source, setSource] = useState<SourceKind>("maker");
  const [result, setResult] = useState<PartResult | typeof NOT_YET>(NOT_YET);
  const [priceText, setPrice] = useState("");
  const [note, setNote] = useState("");
  const [charged, setCharged] = useState(true);
  const price = priceFrom(priceText);
  const save = (): void => {
    const known = price === null || price === undefined ? {} : { price };
    props.onSave({ component, source, charged, ...known, ...(result !== NOT_YET && { result }), ...(note.trim() && { note: note.trim() }) });
  };
  return (
    <Sheet title={t().partSheet.partTried} onClose={props.onClose}>
      <Select label={t().partSheet.part} value={component} choices={componentChoices(props)} onPick={setComponent} />
      <PartMemory report={props.report} component={component} />
      <PickOne label={t().partSheet.from} value={source} choices={sourceChoices} onPick={(value) => setSource(SOURCES.find((each) => each === value) ?? source)} />
      <TextField label={t().partSheet.price} hint={props.currency} mode="decimal" value={priceText} onText={setPrice} problem={price === undefined ? t().partSheet.notAPriceWriteA : undefined} />
      <PickOne label={t().partSheet.whatItDid} value={result} choices={resultChoices} onPick={(value) => setResult(RESULTS.find((each) => each === value) ?? NOT_YET)} />
      {result === "partly" && <TextField label={t().partSheet.whatStayedWrong} value={note} onText={setNote} />}
      <Switch label={t().partSheet.chargedToTheJob} on={charged} onFlip={setCharged}><Shape name={charged ? "boxTick" : "box"} /><span>{t().partSheet.chargedToTheJob}</span></Switch>
      <Button kind="main" wide disabled={component === "" || price === undefined} onTap={save}>{t().partSheet.saveThePart}</Button>
    </Sheet>
  );
}
