/** One step of a case as a slip on the line. */
import type { ComponentChildren, JSX } from "preact";

import type { JobStep } from "../model/job";
import { AskTwice } from "../ui/button";
import { Select } from "../ui/field";
import { RESULTS, type PartChange, type ReadingStep, type TestStep, type Trade, type PartStep } from "../wire";
import { NOT_YET, resultChoices } from "./part-sheet";
import { dayAndTime, measured, minutes, money, sentence, symbolOf, titleOf } from "./words";

export interface StepSlipProps {
  step: JobStep;
  trade: Trade;
  currency: string;
  photo: (photoId: string) => JSX.Element;
  onUndo: ((step: string) => void) | null;
  onResult: (step: string, change: PartChange) => void;
}

export function outcomeWords(trade: Trade, test: string, outcome: string): string {
  const known = trade.tests.find((each) => each.id === test)?.outcomes.find((each) => each.id === outcome);
  return sentence(known?.means || outcome.replaceAll("_", " "));
}

function TestSlip({ step, trade }: { step: TestStep; trade: Trade }): JSX.Element {
  return (
    <>
      <p>{titleOf(trade.tests, step.test)}</p>
      <p class="slip-title">{outcomeWords(trade, step.test, step.outcome)}</p>
      {step.part && <p>Part: {titleOf(trade.causes, step.part)}</p>}
      {!step.fault_present && <p>Fault was away while testing</p>}
      {step.note && <p>{step.note}</p>}
      {step.minutes !== null && <p class="soft">{minutes(step.minutes)}</p>}
    </>
  );
}

function ReadingSlip({ step, trade }: { step: ReadingStep; trade: Trade }): JSX.Element {
  const said = Object.entries(step.conditions).map(([name, value]) => {
    const unit = trade.conditions.find((each) => each.id === name)?.unit ?? "";
    const shown = typeof value === "object" ? measured(value.value, value.unit) : typeof value === "boolean" ? (value ? "yes" : "no") : `${value} ${symbolOf(unit)}`.trim();
    return `${titleOf(trade.conditions, name)} ${shown}`;
  });
  return (
    <>
      <p>{titleOf(trade.quantities, step.quantity)}{step.when === "after" && " (after the repair)"}</p>
      <p class="slip-title number">{measured(step.value, step.unit)}</p>
      {step.point && <p>At {step.point}</p>}
      {said.length > 0 && <p class="soft">{said.join(", ")}</p>}
    </>
  );
}

function PartSlip({ step, trade, currency, onResult }: { step: PartStep; trade: Trade; currency: string; onResult: StepSlipProps["onResult"] }): JSX.Element {
  const pick = (value: string): void => onResult(step.id, { result: RESULTS.find((each) => each === value) ?? null });
  return (
    <>
      <p class="slip-title">Fitted: {titleOf(trade.components, step.component)}</p>
      <p>{sentence(step.source)}{step.price !== null && `, ${money(step.price, currency)}`}{!step.charged && ", not charged"}</p>
      {step.note && <p>{step.note}</p>}
      <Select label="What it did" value={step.result ?? NOT_YET} choices={resultChoices} onPick={pick} />
    </>
  );
}

function inside({ step, trade, currency, photo, onResult }: StepSlipProps): ComponentChildren {
  switch (step.kind) {
    case "test":
      return <TestSlip step={step.step} trade={trade} />;
    case "reading":
      return <ReadingSlip step={step.step} trade={trade} />;
    case "part":
      return <PartSlip step={step.step} trade={trade} currency={currency} onResult={onResult} />;
    case "photo":
      return photo(step.step.id);
  }
}

export function StepSlip(props: StepSlipProps): JSX.Element {
  const { step, onUndo } = props;
  const who = [dayAndTime(step.at), step.step.by].filter(Boolean).join(", ");
  return (
    <div class="slip">
      {inside(props)}
      <p class="soft small">{who}</p>
      {onUndo && <AskTwice kind="quiet" question="Take this step back?" sure="Take back" onTap={() => onUndo(step.step.id)}>Take back</AskTwice>}
    </div>
  );
}
