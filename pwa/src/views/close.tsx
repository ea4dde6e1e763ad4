/** Closing in under a minute: cause, what was done, the after-reading, minutes and note, all proposed. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { afterwards } from "../model/afterwards";
import { fittedIn, minutesSpent, readingsToRepeat, sums } from "../model/job";
import type { LocalCase } from "../model/local-case";
import { numberTyped } from "../model/typed-number";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { SpokenArea } from "../ui/dictate";
import { Select, TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import { Notice } from "../ui/notice";
import { Dock } from "../ui/shell";
import { UNRESOLVED, type CauseChance, type CloseBody, type PartChange, type ReadingBody, type ReadingStep, type Shop, type Trade } from "../wire";
import { Afterwards } from "./car-past";
import { closingBody, isReady, SOMETHING_ELSE, type ClosingForm } from "./closing-form";
import { NOT_YET, resultChoices } from "./part-sheet";
import { isHalfTold, StayedWrong } from "./stayed-wrong";
import { measured, minutes, money, named, percent, titleOf } from "./words";
import { RESULTS } from "../wire";
import { t } from "../texts";

interface CloseProps {
  file: LocalCase;
  trade: Trade;
  shop: Shop | null;
  causes: readonly CauseChance[];
  form: ClosingForm;
  onForm: (form: ClosingForm) => void;
  onMeasure: (twin: ReadingStep) => void;
  onResult: (step: string, change: PartChange) => void;
  onClose: (body: CloseBody) => void;
}

type Part = (props: CloseProps) => JSX.Element | null;

const CauseChoice: Part = ({ causes, trade, form, onForm }) => {
  const [find, setFind] = useState("");
  const words = find.toLowerCase().split(/\s+/).filter(Boolean);
  const found = words.length === 0 ? [] : trade.causes.filter((each) => words.every((word) => each.title.toLowerCase().includes(word))).slice(0, 8);
  const ranked = causes.slice(0, 5).map((each) => ({ id: each.cause, title: each.title, share: percent(each.probability) }));
  const listed = [...ranked, ...found.filter((each) => !ranked.some((one) => one.id === each.id)).map((each) => ({ id: each.id, title: each.title, share: "" }))];
  const chosen = form.cause && form.cause !== SOMETHING_ELSE && !listed.some((each) => each.id === form.cause) ? [{ id: form.cause, title: titleOf(trade.causes, form.cause), share: "" }] : [];
  const pick = (id: string): void => onForm({ ...form, cause: id, unresolved: null, done: form.doneTouched ? form.done : (trade.causes.find((each) => each.id === id)?.fix ?? "") });
  return (
    <Bin title={t().close.whatWasIt}>
      <div class="stack" role="group" aria-label={t().close.cause}>
        {[...chosen, ...listed].map((each) => (
          <button key={each.id} type="button" class="chip choice" aria-pressed={form.cause === each.id && form.unresolved === null} onClick={() => pick(each.id)}>
            <span>{each.title}</span> {each.share && <span class="number">{each.share}</span>}
          </button>
        ))}
        <button type="button" class="chip choice" aria-pressed={form.cause === SOMETHING_ELSE && form.unresolved === null} onClick={() => pick(SOMETHING_ELSE)}>{t().close.somethingElse}</button>
      </div>
      {form.cause === SOMETHING_ELSE && form.unresolved === null && (
        <>
          <TextField label={t().close.whatItWasInYour} value={form.own} onText={(own) => onForm({ ...form, own })} placeholder={t().close.mouseNestOnTheIntake} />
          <Select label={t().close.inWhichSystem} value={form.ownSystem} onPick={(ownSystem) => onForm({ ...form, ownSystem })} choices={[{ value: "", label: t().close.notSure }, ...trade.systems.map((each) => ({ value: each.id, label: each.title }))]} />
        </>
      )}
      <TextField label={t().close.findAnotherListedCause} mode="search" caps="none" value={find} onText={setFind} placeholder={t().close.relayGroundLeak} />
    </Bin>
  );
};

const NotSolved: Part = ({ form, onForm }) => (
  <Bin title={t().close.orNotSolved}>
    <p>{t().close.aTrueResultTooWhat}</p>
    <PickOne label={t().close.whyNot} shown={false} value={form.unresolved ?? ""} choices={UNRESOLVED.map((each) => ({ value: each, label: named(each) }))}
      onPick={(value) => onForm({ ...form, unresolved: value === form.unresolved ? null : (UNRESOLVED.find((each) => each === value) ?? null) })} />
  </Bin>
);

const Proof: Part = ({ file, trade, form, onForm, onMeasure }) => {
  const taken = (twin: ReadingStep): ReadingBody | undefined => form.after.find((each) => each.quantity === twin.quantity && (each.point ?? "") === twin.point);
  const twins = readingsToRepeat(file);
  return (
    <Bin title={t().close.isItCured}>
      {twins.map((twin) => {
        const after = taken(twin);
        return (
          <div class="slip" key={twin.id}>
            <p class="slip-title">{titleOf(trade.quantities, twin.quantity)}</p>
            <p>{t().close.before} <b class="number">{measured(twin.value, twin.unit)}</b>{after && <> {t().close.after} <b class="number">{measured(after.value, after.unit)}</b></>}</p>
            <Button shape="gauge" onTap={() => onMeasure(twin)}>{after ? t().close.measureAgain : t().close.measureItAfterTheRepair}</Button>
          </div>
        );
      })}
      <TextField label={t().close.howYouKnow} hint={t().close.sameDriveSameConditions} value={form.verification} onText={(verification) => onForm({ ...form, verification })} placeholder={t().close.ran20MinHotCold} />
      {form.after.length === 0 && form.verification.trim() === "" && <p class="soft">{t().close.withoutProofTheCaseStill}</p>}
    </Bin>
  );
};

const PartResults: Part = ({ file, trade, onResult }) => {
  const waiting = file.parts.filter((each) => each.result === null || isHalfTold(each));
  if (waiting.length === 0) return null;
  return (
    <Bin title={t().close.whatDidThePartsDo}>
      {waiting.map((each) => (
        <div class="slip" key={each.id}>
          <PickOne label={`${titleOf(trade.components, each.component)} (${named(each.source).toLowerCase()})`} value={each.result ?? NOT_YET} choices={resultChoices.slice(1)}
            onPick={(value) => onResult(each.id, { result: RESULTS.find((one) => one === value) ?? null })} />
          {isHalfTold(each) && <StayedWrong step={each} onResult={onResult} />}
        </div>
      ))}
    </Bin>
  );
};

const Money: Part = ({ file, trade, shop, form, onForm }) => {
  const labour = closingBody(form).labour ?? {};
  const spent = minutesSpent(file, trade);
  const total = sums(file, { diagnosis_min: spent, ...labour }, { rate: shop?.rate_per_hour ?? 0, other: numberTyped(form.other) ?? 0 });
  const currency = shop?.currency ?? "";
  return (
    <Bin title={t().close.minutesAndMoney} count={money(total.total, currency)}>
      <div class="halves">
        <TextField label={t().close.diagnosisMin} mode="decimal" value={form.diagnosis} placeholder={String(Math.round(spent))} onText={(diagnosis) => onForm({ ...form, diagnosis })} />
        <TextField label={t().close.repairMin} mode="decimal" value={form.repair} onText={(repair) => onForm({ ...form, repair })} />
      </div>
      <div class="halves">
        <TextField label={t().close.notBilledMin} mode="decimal" value={form.notBilled} onText={(notBilled) => onForm({ ...form, notBilled })} />
        <TextField label={t().close.otherCost} mode="decimal" value={form.other} onText={(other) => onForm({ ...form, other })} />
      </div>
      <p>{t().close.partsLabourTestsSoFar(money(total.parts, currency), money(total.labour, currency), minutes(spent))}</p>
    </Bin>
  );
};

const Words: Part = ({ form, onForm }) => (
  <Bin title={t().close.note}>
    {form.unresolved === null && <TextField label={t().close.whatWasDone} value={form.done} onText={(done) => onForm({ ...form, done, doneTouched: true })} maxLength={400} />}
    <Fold title={t().close.noteWritesItselfFromThe} open={form.note !== ""}>
      <SpokenArea label={t().close.yourWords} hint={t().close.leaveEmptyToTakeThe} rows={5} value={form.note} onText={(note) => onForm({ ...form, note })} />
    </Fold>
  </Bin>
);

export function CloseScreen(props: CloseProps): JSX.Element {
  const { form, file, onClose } = props;
  if (file.state !== "open") return <div class="place"><Notice kind="good" title={t().close.thisCaseIsClosed}><a class="button" href={`#/case/${file.id}`}>{t().close.showIt}</a></Notice></div>;
  const ready = isReady(form);
  return (
    <>
      <div class="place with-dock">
        <CauseChoice {...props} />
        <NotSolved {...props} />
        {form.unresolved === null && <Afterwards left={afterwards({ causes: form.cause ? [form.cause] : [], components: fittedIn(file) }, props.trade)} />}
        {form.unresolved === null && <Proof {...props} />}
        <PartResults {...props} />
        <Words {...props} />
        <Money {...props} />
      </div>
      <Dock>
        <Button kind="main" disabled={!ready} onTap={() => onClose(closingBody(form))}>
          {!ready ? t().close.pickTheCause : form.unresolved ? t().close.closeAsNotSolved : t().close.closeTheCase}
        </Button>
      </Dock>
    </>
  );
}
