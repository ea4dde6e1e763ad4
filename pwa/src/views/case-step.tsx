/** One step of a case as a slip on the line. */
import type { ComponentChildren, JSX } from "preact";

import type { JobStep } from "../model/job";
import { AskTwice, Button } from "../ui/button";
import { Select } from "../ui/field";
import { repairWords } from "./repair-sheet";
import { skipWords, wrongWords } from "./say-why";
import { isHalfTold, StayedWrong } from "./stayed-wrong";
import { RESULTS, type ObjectionStep, type PartChange, type PartStep, type ReadingStep, type RepairStep, type SkipStep, type TestStep, type Trade } from "../wire";
import { NOT_YET, resultChoices } from "./part-sheet";
import { dayAndTime, measured, measuredHere, minutes, money, outcomeWords, named, titleOf } from "./words";
import { t } from "../texts";

interface StepSlipProps {
  step: JobStep;
  trade: Trade;
  currency: string;
  photo: (photoId: string) => JSX.Element;
  onUndo: ((step: string) => void) | null;
  /** Puts an outcome or a value right; null where the case is closed. */
  onRight: ((step: JobStep) => void) | null;
  onResult: (step: string, change: PartChange) => void;
}

function TestSlip({ step, trade }: { step: TestStep; trade: Trade }): JSX.Element {
  return (
    <>
      <p>{titleOf(trade.tests, step.test)}</p>
      <p class="slip-title">{outcomeWords(trade, step.test, step.outcome)}</p>
      {step.part && <p>{t().caseStep.part(titleOf(trade.causes, step.part))}</p>}
      {!step.fault_present && <p>{t().caseStep.faultWasAwayWhileTesting}</p>}
      {step.note && <p>{step.note}</p>}
      {step.minutes !== null && <p class="soft">{minutes(step.minutes)}</p>}
    </>
  );
}

const conditionWords = (value: number | string, unit: string): string => (typeof value === "number" ? measuredHere({ value, unit }) : value);

function ReadingSlip({ step, trade }: { step: ReadingStep; trade: Trade }): JSX.Element {
  const said = Object.entries(step.conditions).map(([name, value]) => {
    const unit = trade.conditions.find((each) => each.id === name)?.unit ?? "";
    const shown = typeof value === "object" ? measuredHere(value) : typeof value === "boolean" ? (value ? t().caseStep.yes : t().caseStep.no) : conditionWords(value, unit);
    return `${titleOf(trade.conditions, name)} ${shown}`;
  });
  return (
    <>
      <p>{titleOf(trade.quantities, step.quantity)}{step.when === "after" && t().caseStep.afterTheRepair}</p>
      <p class="slip-title number">{measured(step.value, step.unit)}</p>
      {step.point && <p>{t().caseStep.at(step.point)}</p>}
      {said.length > 0 && <p class="soft">{said.join(", ")}</p>}
    </>
  );
}

function PartSlip({ step, trade, currency, onResult }: { step: PartStep; trade: Trade; currency: string; onResult: StepSlipProps["onResult"] }): JSX.Element {
  const pick = (value: string): void => onResult(step.id, { result: RESULTS.find((each) => each === value) ?? null });
  return (
    <>
      <p class="slip-title">{t().caseStep.fitted(titleOf(trade.components, step.component))}</p>
      <p>{named(step.source)}{step.price !== null && `, ${money(step.price, currency)}`}{!step.charged && t().caseStep.notCharged}</p>
      {step.note && <p>{step.note}</p>}
      <Select label={t().caseStep.whatItDid} value={step.result ?? NOT_YET} choices={resultChoices} onPick={pick} />
      {isHalfTold(step) && <StayedWrong step={step} onResult={onResult} />}
    </>
  );
}

function RepairSlip({ step, trade }: { step: RepairStep; trade: Trade }): JSX.Element {
  return (
    <>
      <p>{t().caseStep.repairedWithoutANewPart(titleOf(trade.causes, step.cause))}</p>
      <p class="slip-title">{repairWords(step.result)}</p>
      {step.note && <p>{step.note}</p>}
      {step.minutes !== null && <p class="soft">{minutes(step.minutes)}</p>}
    </>
  );
}

function SkipSlip({ step, trade }: { step: SkipStep; trade: Trade }): JSX.Element {
  return (
    <>
      <p>{t().caseStep.notDone(titleOf(trade.tests, step.test))}</p>
      <p class="slip-title">{skipWords(step.because)}</p>
      {step.note && <p>{step.note}</p>}
    </>
  );
}

function ObjectionSlip({ step, trade }: { step: ObjectionStep; trade: Trade }): JSX.Element {
  return (
    <>
      <p>{t().caseStep.heldToBeWrong(titleOf(trade.causes, step.cause))}</p>
      <p class="slip-title">{wrongWords(step.because)}</p>
      {step.note && <p>{step.note}</p>}
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
    case "repair":
      return <RepairSlip step={step.step} trade={trade} />;
    case "skip":
      return <SkipSlip step={step.step} trade={trade} />;
    case "objection":
      return <ObjectionSlip step={step.step} trade={trade} />;
    case "photo":
      return photo(step.step.id);
  }
}

export function StepSlip(props: StepSlipProps): JSX.Element {
  const { step, onUndo, onRight } = props;
  const mendable = step.kind === "test" || step.kind === "reading";
  const who = [dayAndTime(step.at), step.step.by].filter(Boolean).join(", ");
  return (
    <div class="slip">
      {inside(props)}
      <p class="soft small">{who}</p>
      <div class="row">
        {onRight && mendable && <Button onTap={() => onRight(step)}>{t().caseStep.putRight}</Button>}
        {onUndo && <AskTwice kind="quiet" question={t().caseStep.takeThisStepBack} sure={t().caseStep.takeBack} onTap={() => onUndo(step.step.id)}>{t().caseStep.takeBack}</AskTwice>}
      </div>
    </div>
  );
}
