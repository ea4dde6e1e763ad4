/** Closing in under a minute: cause, what was done, the after-reading, minutes and note, all proposed. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { minutesSpent, readingsToRepeat, sums } from "../model/job";
import type { LocalCase } from "../model/local-case";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { Select, TextArea, TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import { Notice } from "../ui/notice";
import { Dock } from "../ui/shell";
import { UNRESOLVED, type CauseChance, type CloseBody, type PartChange, type ReadingBody, type ReadingStep, type Shop, type Trade } from "../wire";
import { closingBody, isReady, SOMETHING_ELSE, type ClosingForm } from "./closing-form";
import { NOT_YET, resultChoices } from "./part-sheet";
import { isHalfTold, StayedWrong } from "./stayed-wrong";
import { measured, minutes, money, percent, sentence, titleOf } from "./words";
import { RESULTS } from "../wire";

export interface CloseProps {
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
    <Bin title="What was it?">
      <div class="stack" role="group" aria-label="Cause">
        {[...chosen, ...listed].map((each) => (
          <button key={each.id} type="button" class="chip choice" aria-pressed={form.cause === each.id && form.unresolved === null} onClick={() => pick(each.id)}>
            <span>{each.title}</span> {each.share && <span class="number">{each.share}</span>}
          </button>
        ))}
        <button type="button" class="chip choice" aria-pressed={form.cause === SOMETHING_ELSE && form.unresolved === null} onClick={() => pick(SOMETHING_ELSE)}>Something else</button>
      </div>
      {form.cause === SOMETHING_ELSE && form.unresolved === null && (
        <>
          <TextField label="What it was, in your words" value={form.own} onText={(own) => onForm({ ...form, own })} placeholder="mouse nest on the intake joint" />
          <Select label="In which system" value={form.ownSystem} onPick={(ownSystem) => onForm({ ...form, ownSystem })} choices={[{ value: "", label: "Not sure" }, ...trade.systems.map((each) => ({ value: each.id, label: each.title }))]} />
        </>
      )}
      <TextField label="Find another listed cause" mode="search" caps="none" value={find} onText={setFind} placeholder="relay, ground, leak" />
    </Bin>
  );
};

const NotSolved: Part = ({ form, onForm }) => (
  <Bin title="Or: not solved">
    <p>A true result too. What was tried is kept for when the car returns.</p>
    <PickOne label="Why not" shown={false} value={form.unresolved ?? ""} choices={UNRESOLVED.map((each) => ({ value: each, label: sentence(each) }))}
      onPick={(value) => onForm({ ...form, unresolved: value === form.unresolved ? null : (UNRESOLVED.find((each) => each === value) ?? null) })} />
  </Bin>
);

const Proof: Part = ({ file, trade, form, onForm, onMeasure }) => {
  const taken = (twin: ReadingStep): ReadingBody | undefined => form.after.find((each) => each.quantity === twin.quantity && (each.point ?? "") === twin.point);
  const twins = readingsToRepeat(file);
  return (
    <Bin title="Is it cured?">
      {twins.map((twin) => {
        const after = taken(twin);
        return (
          <div class="slip" key={twin.id}>
            <p class="slip-title">{titleOf(trade.quantities, twin.quantity)}</p>
            <p>Before: <b class="number">{measured(twin.value, twin.unit)}</b>{after && <> After: <b class="number">{measured(after.value, after.unit)}</b></>}</p>
            <Button shape="gauge" onTap={() => onMeasure(twin)}>{after ? "Measure again" : "Measure it after the repair"}</Button>
          </div>
        );
      })}
      <TextField label="How you know" hint="same drive, same conditions" value={form.verification} onText={(verification) => onForm({ ...form, verification })} placeholder="ran 20 min hot, cold at the vent" />
      {form.after.length === 0 && form.verification.trim() === "" && <p class="soft">Without proof the case still closes, but counts for less.</p>}
    </Bin>
  );
};

const PartResults: Part = ({ file, trade, onResult }) => {
  const waiting = file.parts.filter((each) => each.result === null || isHalfTold(each));
  if (waiting.length === 0) return null;
  return (
    <Bin title="What did the parts do?">
      {waiting.map((each) => (
        <div class="slip" key={each.id}>
          <PickOne label={`${titleOf(trade.components, each.component)} (${each.source})`} value={each.result ?? NOT_YET} choices={resultChoices.slice(1)}
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
  const total = sums(file, { diagnosis_min: spent, ...labour }, { rate: shop?.rate_per_hour ?? 0, other: Number(form.other) || 0 });
  const currency = shop?.currency ?? "";
  return (
    <Bin title="Minutes and money" count={money(total.total, currency)}>
      <div class="halves">
        <TextField label="Diagnosis min" mode="decimal" value={form.diagnosis} placeholder={String(Math.round(spent))} onText={(diagnosis) => onForm({ ...form, diagnosis })} />
        <TextField label="Repair min" mode="decimal" value={form.repair} onText={(repair) => onForm({ ...form, repair })} />
      </div>
      <div class="halves">
        <TextField label="Not billed min" mode="decimal" value={form.notBilled} onText={(notBilled) => onForm({ ...form, notBilled })} />
        <TextField label="Other cost" mode="decimal" value={form.other} onText={(other) => onForm({ ...form, other })} />
      </div>
      <p>Parts {money(total.parts, currency)}, labour {money(total.labour, currency)}. Tests so far took {minutes(spent)}.</p>
    </Bin>
  );
};

const Words: Part = ({ form, onForm }) => (
  <Bin title="Note">
    {form.unresolved === null && <TextField label="What was done" value={form.done} onText={(done) => onForm({ ...form, done, doneTouched: true })} maxLength={400} />}
    <Fold title="Note (writes itself from the steps)" open={form.note !== ""}>
      <TextArea label="Your words" hint="leave empty to take the drafted note" rows={5} value={form.note} onText={(note) => onForm({ ...form, note })} />
    </Fold>
  </Bin>
);

export function CloseScreen(props: CloseProps): JSX.Element {
  const { form, file, onClose } = props;
  if (file.state !== "open") return <div class="place"><Notice kind="good" title="This case is closed"><a class="button" href={`#/case/${file.id}`}>Show it</a></Notice></div>;
  const ready = isReady(form);
  return (
    <>
      <div class="place with-dock">
        <CauseChoice {...props} />
        <NotSolved {...props} />
        {form.unresolved === null && <Proof {...props} />}
        <PartResults {...props} />
        <Words {...props} />
        <Money {...props} />
      </div>
      <Dock>
        <Button kind="main" disabled={!ready} onTap={() => onClose(closingBody(form))}>
          {!ready ? "Pick the cause" : form.unresolved ? "Close as not solved" : "Close the case"}
        </Button>
      </Dock>
    </>
  );
}
