/** Writing down a reading: a number, its unit, where it was taken, and the conditions it needs. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { Select, TextField } from "../ui/field";
import { Notice } from "../ui/notice";
import { Pad } from "../ui/pad";
import { Sheet } from "../ui/sheet";
import { plausible, toReading, unitsOf, usualUnit } from "../model/reading";
import { padShown } from "../model/typed-number";
import { unitHere } from "../model/units";
import type { Judged, ReadingBody, Shop, Trade, TradeCondition, When } from "../wire";
import { askedAs, askedTitle, conditionsOf, type Given } from "./condition-words";
import { Verdict, VerdictLine } from "./verdict";
import { measured, unitShort, titleOf, unitWords } from "./words";
import { t } from "../texts";

interface ReadingSheetProps {
  trade: Trade;
  /** The quantity asked for; empty lets the person pick. */
  quantity: string;
  offered: readonly string[];
  title: string;
  when: When;
  unit?: string;
  /** A number already heard in the words. */
  given?: { value: number; point: string };
  kept: Given;
  system: Shop["unit_system"];
  judge: (reading: ReadingBody) => Judged | null;
  onSave: (reading: ReadingBody) => void;
  onClose: () => void;
}

interface WordConditionProps {
  condition: TradeCondition;
  value: string;
  onValue: (value: string) => void;
}

/** The values travel as they are; only what is read is translated. */
const FLAG = [
  { value: "yes", get label() { return t().readingSheet.yes; } },
  { value: "no", get label() { return t().readingSheet.no; } },
];

function WordCondition({ condition, value, onValue }: WordConditionProps): JSX.Element {
  const asked = askedAs(condition);
  if (asked.kind === "text" || asked.kind === "number") return <TextField label={askedTitle(condition)} value={value} onText={onValue} maxLength={60} />;
  const words = asked.kind === "flag" ? FLAG : asked.words.map((word) => ({ value: word, label: word }));
  return <PickOne label={askedTitle(condition)} value={value} onPick={(word) => onValue(word === value ? "" : word)} choices={words} />;
}

interface WindowProps {
  label: string;
  unit: string;
  text: string;
  active: boolean;
  onTap: () => void;
}

function ConditionWindow({ label, unit, text, active, onTap }: WindowProps): JSX.Element {
  return (
    <button type="button" class="chip" aria-pressed={active} onClick={onTap}>
      {label}: <b>{text === "" ? "?" : padShown(text)}</b> {unitShort(unit)}
    </button>
  );
}

const MAIN = "";

function useReading(props: ReadingSheetProps) {
  const [quantityId, setQuantity] = useState(props.quantity || (props.offered[0] ?? ""));
  const find = (id: string) => props.trade.quantities.find((each) => each.id === id);
  const usual = (id: string): string => {
    const found = find(id);
    return found ? usualUnit(found, props.system) : "";
  };
  const [unit, setUnit] = useState(props.unit ?? usual(quantityId));
  const [point, setPoint] = useState(props.given?.point ?? "");
  const [value, setValue] = useState(props.given ? String(props.given.value) : "");
  const [given, setGiven] = useState<Given>(props.kept);
  const [active, setActive] = useState(MAIN);
  const quantity = find(quantityId);
  const conditions = props.trade.conditions.filter((each) => quantity?.conditions.includes(each.id));
  const pick = (id: string): void => {
    setQuantity(id);
    setUnit(props.given ? (props.unit ?? usual(id)) : usual(id));
    setActive(MAIN);
  };
  const reading = quantity ? toReading(quantity, { typed: value, unit, point, when: props.when, conditions: conditionsOf(conditions, given) }) : null;
  const doubt = quantity && reading ? plausible(quantity, { value: reading.value, unit: reading.unit }) : null;
  const give = (id: string, text: string): void => setGiven({ ...given, [id]: text });
  return { quantity, pick, unit, setUnit, point, setPoint, value, setValue, given, give, active, setActive, conditions, reading, doubt };
}

type State = ReturnType<typeof useReading>;

function Conditions({ state }: { state: State }): JSX.Element {
  const { conditions, given, give, active, setActive } = state;
  const numeric = conditions.filter((each) => askedAs(each).kind === "number");
  const worded = conditions.filter((each) => askedAs(each).kind !== "number");
  return (
    <>
      {worded.map((each) => <WordCondition key={each.id} condition={each} value={given[each.id] ?? ""} onValue={(text) => give(each.id, text)} />)}
      {numeric.length > 0 && (
        <div class="chips" role="group" aria-label={t().readingSheet.conditionsTapOneThenUse}>
          {numeric.map((each) => (
            <ConditionWindow key={each.id} label={askedTitle(each)} unit={unitHere(each.unit ?? "")} text={given[each.id] ?? ""} active={active === each.id} onTap={() => setActive(active === each.id ? MAIN : each.id)} />
          ))}
        </div>
      )}
    </>
  );
}

function Window({ state }: { state: State }): JSX.Element {
  const { active, given, conditions, value, unit } = state;
  const condition = conditions.find((each) => each.id === active);
  const text = condition ? (given[active] ?? "") : value;
  return (
    <div class="window">
      <output aria-label={condition?.title ?? state.quantity?.title ?? t().readingSheet.reading}>{padShown(text) || "–"}</output>
      <span class="unit">{unitWords(condition ? unitHere(condition.unit ?? "") : unit)}</span>
    </div>
  );
}

function Doubt({ state }: { state: State }): JSX.Element | null {
  const { doubt, setUnit } = state;
  if (!doubt || doubt.kind === "plausible") return null;
  const instead = doubt.kind === "question" ? doubt.instead : null;
  return (
    <Notice kind="warn" title={t().readingSheet.checkThisNumber}>
      <p>{t().readingSheet.itCanBeSavedAll(doubt.why)}</p>
      {instead && <Button onTap={() => setUnit(instead.unit)}>{t().readingSheet.itWas(measured(instead.value, instead.unit))}</Button>}
    </Notice>
  );
}

function What({ state, props }: { state: State; props: ReadingSheetProps }): JSX.Element {
  const { quantity, pick } = state;
  const choices = props.trade.quantities.filter((each) => props.offered.length === 0 || props.offered.includes(each.id) || each.id === quantity?.id);
  if (props.quantity) return <p class="slip-title">{quantity?.title ?? titleOf([], props.quantity)}</p>;
  return <Select label={t().readingSheet.whatWasMeasured} value={quantity?.id ?? ""} onPick={pick} choices={[{ value: "", label: t().readingSheet.choose }, ...choices.map((each) => ({ value: each.id, label: each.title }))]} />;
}

export function ReadingSheet(props: ReadingSheetProps): JSX.Element {
  const state = useReading(props);
  const { quantity, unit, active, reading } = state;
  const units = quantity ? unitsOf(quantity) : [];
  const judged = reading && props.judge(reading);
  const type = (text: string): void => (active === MAIN ? state.setValue(text) : state.give(active, text));
  const save = (): void => {
    if (reading) props.onSave(reading);
  };
  return (
    <Sheet title={props.title} onClose={props.onClose}>
      <What state={state} props={props} />
      {quantity && <TextField label={t().readingSheet.where} hint={t().readingSheet.ifNotTheUsualPoint} placeholder={quantity.test_point} value={state.point} onText={state.setPoint} maxLength={80} />}
      <Conditions state={state} />
      <Doubt state={state} />
      {judged && <Verdict row={judged} trade={props.trade} brief />}
      <div class="pad-dock">
      {units.length > 1 && <PickOne label={t().readingSheet.unit} shown={false} value={unit} onPick={state.setUnit} choices={units.map((each) => ({ value: each, label: unitWords(each) }))} />}
      {judged && <VerdictLine row={judged} />}
      <Window state={state} />
      <Pad text={active === MAIN ? state.value : (state.given[active] ?? "")} onText={type}>
        <button type="button" class="key save" disabled={!reading} onClick={save}>{t().readingSheet.save}</button>
      </Pad>
      </div>
    </Sheet>
  );
}
