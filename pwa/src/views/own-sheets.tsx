/** Something of the shop's own: a test nobody listed, or a cause nobody listed. */
import type { ComponentChildren, JSX } from "preact";

import { numberTyped } from "../model/typed-number";
import { toggled } from "../model/draft";
import { Button } from "../ui/button";
import { PickOne, PickSome } from "../ui/chips";
import { Select, TextArea, TextField, type Choice } from "../ui/field";
import { Fold } from "../ui/fold";
import { Busy, Notice } from "../ui/notice";
import { Sheet } from "../ui/sheet";
import type { OwnCauseBody, OwnTestBody, Trade } from "../wire";
import { causeChoices } from "./cause-choices";
import { TroubleNotice, troubleAt, type Trouble } from "./trouble";
import { titleOf } from "./words";
import { t } from "../texts";

/** What is typed, kept on the phone until the service has it. */
export interface OwnForm {
  title: string;
  system: string;
  minutes: string;
  points: readonly string[];
  symptoms: readonly string[];
  steps: string;
  fix: string;
}

export const EMPTY_OWN: OwnForm = { title: "", system: "", minutes: "5", points: [], symptoms: [], steps: "", fix: "" };

export interface OwnSheetProps {
  form: OwnForm;
  trade: Trade;
  likely: readonly { cause: string; title: string; system: string | null }[];
  /** Signs of the complaint at hand, and its systems. */
  symptoms: readonly string[];
  systems: readonly string[];
  online: boolean;
  busy: boolean;
  trouble: Trouble | null;
  onForm: (form: OwnForm) => void;
  onClose: () => void;
}

const LIKELY = 4;
const MOST_SIGNS = 8;
const MINUTES = ["2", "5", "10", "20", "40"];

/** The system picked, else that of the first cause it points at, else the complaint's. */
export function systemOf({ form, trade, likely, systems }: Pick<OwnSheetProps, "form" | "trade" | "likely" | "systems">): string {
  const listed = trade.causes.find((each) => form.points.includes(each.id))?.system;
  const pointed = likely.find((each) => form.points.includes(each.cause))?.system;
  return form.system || pointed || listed || systems[0] || "";
}

export function ownTestBody(props: Pick<OwnSheetProps, "form" | "trade" | "likely" | "systems" | "symptoms">): OwnTestBody {
  const { form, symptoms } = props;
  const steps = form.steps.split("\n").map((each) => each.trim()).filter(Boolean);
  return { title: form.title.trim(), system: systemOf(props), minutes: numberTyped(form.minutes) ?? 0, points_at: form.points, for_symptoms: symptoms, ...(steps.length > 0 && { steps }) };
}

export function ownCauseBody(props: Pick<OwnSheetProps, "form" | "trade" | "likely" | "systems">): OwnCauseBody {
  const { form } = props;
  return { title: form.title.trim(), system: systemOf(props), symptoms: form.symptoms, ...(form.fix.trim() && { fix: form.fix.trim() }) };
}

/** The likely causes, and what was picked beside them. */
function pointsOffered({ form, trade, likely }: OwnSheetProps): Choice[] {
  const shown = likely.slice(0, LIKELY).map((each) => ({ value: each.cause, label: each.title }));
  const others = form.points.filter((id) => shown.every((each) => each.value !== id));
  return [...shown, ...others.map((id) => ({ value: id, label: titleOf(trade.causes, id) }))];
}

function System(props: OwnSheetProps): JSX.Element {
  const { form, trade, trouble, onForm } = props;
  const choices: Choice[] = [{ value: "", label: t().ownSheets.choose }, ...trade.systems.map((each) => ({ value: each.id, label: each.title }))];
  return <Select label={t().ownSheets.belongsTo} value={systemOf(props)} choices={choices} onPick={(system) => onForm({ ...form, system })} problem={troubleAt(trouble, "system")} />;
}

function Ending({ props, ready, children, onSave }: { props: OwnSheetProps; ready: boolean; children: ComponentChildren; onSave: () => void }): JSX.Element {
  const { online, busy, trouble } = props;
  return (
    <>
      {trouble && <TroubleNotice trouble={trouble} />}
      {!online && <Notice kind="warn" title={t().ownSheets.needsSignalToBeAdded}><p>{t().ownSheets.yourWordsStayOnThis}</p></Notice>}
      {busy ? <Busy>{t().ownSheets.addingIt}</Busy> : <Button kind="main" wide disabled={!ready} onTap={onSave}>{children}</Button>}
    </>
  );
}

export function OwnTestSheet(props: OwnSheetProps & { onSave: (body: OwnTestBody) => void }): JSX.Element {
  const { form, trade, trouble, onForm, onClose, onSave } = props;
  const wrong = !(Number(numberTyped(form.minutes)) > 0);
  const flip = (cause: string): void => onForm({ ...form, points: toggled(form.points, cause) });
  return (
    <Sheet title={t().ownSheets.aTestOfOurOwn} onClose={onClose}>
      <TextField label={t().ownSheets.whatDoYouDo} value={form.title} onText={(title) => onForm({ ...form, title })} maxLength={120} placeholder={t().ownSheets.pullTheCarpetFeelThe} problem={troubleAt(trouble, "title")} />
      <PickSome label={t().ownSheets.ifItFindsSomethingIt} values={form.points} choices={pointsOffered(props)} onFlip={flip} />
      <Select label={t().ownSheets.orAnotherCause} value="" choices={causeChoices(trade, props.systems).filter((each) => !form.points.includes(each.value))} onPick={(cause) => cause && flip(cause)} />
      {troubleAt(trouble, "points_at") && <p class="problem">{troubleAt(trouble, "points_at")}</p>}
      <PickOne label={t().ownSheets.minutes} value={form.minutes} choices={MINUTES.map((each) => ({ value: each, label: each }))} onPick={(minutes) => onForm({ ...form, minutes })} />
      <Fold title={t().ownSheets.moreStepsWhereItBelongs} open={systemOf(props) === ""}>
        <TextArea label={t().ownSheets.steps} hint={t().ownSheets.ifOthersNeedThemOne} rows={2} value={form.steps} onText={(steps) => onForm({ ...form, steps })} maxLength={2000} />
        <System {...props} />
      </Fold>
      <Ending props={props} ready={form.title.trim() !== "" && form.points.length > 0 && !wrong && systemOf(props) !== ""} onSave={() => onSave(ownTestBody(props))}>
        {form.title.trim() === "" ? t().ownSheets.sayWhatYouDo : form.points.length === 0 ? t().ownSheets.pickWhatItCanFind : t().ownSheets.addTheTestAndUse}
      </Ending>
    </Sheet>
  );
}

export function OwnCauseSheet(props: OwnSheetProps & { onSave: (body: OwnCauseBody) => void }): JSX.Element {
  const { form, trade, trouble, symptoms, onForm, onClose, onSave } = props;
  const nearby = trade.symptoms.filter((each) => each.systems.includes(systemOf(props))).map((each) => each.id);
  const offered = [...new Set([...symptoms, ...form.symptoms, ...(symptoms.length > 0 ? [] : nearby)])].slice(0, MOST_SIGNS);
  return (
    <Sheet title={t().ownSheets.aCauseOfOurOwn} onClose={onClose}>
      <TextField label={t().ownSheets.whatWasIt} value={form.title} onText={(title) => onForm({ ...form, title })} maxLength={120} placeholder={t().ownSheets.mouseNestOnTheHeater} problem={troubleAt(trouble, "title")} />
      <PickSome label={t().ownSheets.itShowsAs} values={form.symptoms} choices={offered.map((each) => ({ value: each, label: titleOf(trade.symptoms, each) }))} onFlip={(symptom) => onForm({ ...form, symptoms: toggled(form.symptoms, symptom) })} />
      {troubleAt(trouble, "symptoms") && <p class="problem">{troubleAt(trouble, "symptoms")}</p>}
      <System {...props} />
      <TextField label={t().ownSheets.whatCuresIt} hint={t().ownSheets.ifKnown} value={form.fix} onText={(fix) => onForm({ ...form, fix })} maxLength={200} />
      <Ending props={props} ready={form.title.trim() !== "" && form.symptoms.length > 0 && systemOf(props) !== ""} onSave={() => onSave(ownCauseBody(props))}>
        {form.title.trim() === "" ? t().ownSheets.sayWhatItWas : form.symptoms.length === 0 ? t().ownSheets.pickHowItShows : t().ownSheets.addTheCause}
      </Ending>
    </Sheet>
  );
}
