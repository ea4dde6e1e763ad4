/** The sheets wired to the job at hand. */
import type { JSX } from "preact";

import { changeDraft, recentCars } from "./app-draft";
import { addAfterReading } from "./app-closing";
import { adviceNow, likelyNow, systemsNow } from "./app-advised";
import { addOutcome, addPart, addReading, addRepair, job, object, skipTest } from "./app-job";
import { amend, dropWords, keepNote, keepWords, putRight, reopen, saveNote, wordsKept } from "./app-case";
import { takeOutcome } from "./app-outcome";
import { OwnSheet } from "./app-own";
import { scanner } from "./app-later";
import { route } from "./app-route";
import { closeSheet, sheet, type Open } from "./app-sheet";
import { partsReport } from "./app-parts";
import { now, currency, odometerUnit, phone, shop } from "./app-state";
import { judge } from "./model/local-judge";
import { Sheet } from "./ui/sheet";
import { Stub } from "./ui/tag";
import { NamePart } from "./views/advice";
import { keptFrom } from "./views/condition-words";
import { NoteSheet, ReopenSheet } from "./views/case-sheets";
import { EditSheet } from "./views/edit-sheet";
import { causesShown, outcomeBy } from "./views/outcome-by-reading";
import { PartSheet } from "./views/part-sheet";
import { ReadingSheet } from "./views/reading-sheet";
import { RepairSheet } from "./views/repair-sheet";
import { SkipSheet, WrongSheet } from "./views/say-why";
import { TestSheet } from "./views/test-sheet";
import { outcomeWords, sentence, titleOf } from "./views/words";
import type { ReadingBody, ReadingStep, TestStep } from "./wire";
import { t } from "./texts";

const tests = () => phone.trade.value.tests;

function takeReading(open: Extract<Open, { kind: "reading" }>, reading: ReadingBody): void {
  closeSheet();
  const here = job.peek();
  if (open.twin) return addAfterReading(open.twin, reading);
  if (open.test) return takeTestReading(open.test, reading);
  if (here?.kind === "draft" && route.peek().at === "ask") return changeDraft({ readings: [...here.it.readings, reading] });
  void addReading(reading);
}

/** The number decides the outcome; where it cannot, the person does, with the number kept. */
function takeTestReading(test: string, reading: ReadingBody): void {
  const known = tests().find((each) => each.id === test);
  const outcome = known ? outcomeBy(known, reading) : null;
  if (!known || outcome === null) {
    sheet.value = { kind: "outcome", test, reading };
    return;
  }
  takeOutcome(test, outcome, known.outcomes.find((each) => each.id === outcome)?.names_part ?? false, reading);
}

const measure = (test: string, quantity: string): void => {
  sheet.value = { kind: "reading", quantity, test, when: "before" };
};

function Reading({ open }: { open: Extract<Open, { kind: "reading" }> }): JSX.Element {
  const trade = phone.trade.value;
  const title = open.twin ? t().app.afterTheRepair : open.test ? titleOf(trade.tests, open.test) : t().app.reading;
  const unit = open.given?.unit ?? open.unit;
  const fits = open.given ? trade.quantities.filter((each) => each.accepted_units.includes(open.given?.unit ?? "")).map((each) => each.id) : [];
  return (
    <ReadingSheet
      trade={trade} quantity={open.quantity} offered={fits} title={title} when={open.when} system={shop.value?.unit_system ?? "si"}
      kept={keptFrom(job.value?.it.readings ?? [], trade.conditions)} judge={(reading) => judge(reading, trade)} onSave={(reading) => takeReading(open, reading)} onClose={closeSheet}
      {...(unit && { unit })} {...(open.given && { given: open.given })}
    />
  );
}

function WhichOutcome({ open }: { open: Extract<Open, { kind: "outcome" }> }): JSX.Element {
  const known = tests().find((each) => each.id === open.test);
  return (
    <Sheet title={t().app.whatDoesThatMean} onClose={closeSheet}>
      <p>{t().app.theNumberAloneDoesNot}</p>
      {known?.outcomes.map((each) => <Stub key={each.id} title={sentence(each.means || each.id)} onTap={() => takeOutcome(open.test, each.id, each.names_part, open.reading)} />)}
    </Sheet>
  );
}

function WhichPart({ open }: { open: Extract<Open, { kind: "name" }> }): JSX.Element {
  const trade = phone.trade.value;
  const known = tests().find((each) => each.id === open.test);
  const chance = (cause: string): number => adviceNow()?.causes.find((each) => each.cause === cause)?.probability ?? 0;
  const words = outcomeWords(trade, open.test, open.outcome);
  const name = (part: string | null): void => {
    closeSheet();
    void addOutcome({ test: open.test, outcome: open.outcome, part, words, ...(open.reading && { reading: open.reading }) });
  };
  return (
    <Sheet title={t().app.whichOneWasIt} onClose={closeSheet}>
      <NamePart question={words} causes={known ? causesShown(known, open.outcome, chance) : []} trade={trade} onName={name} />
    </Sheet>
  );
}

/** The outcome written down was not the one seen. */
function RightTest({ step }: { step: TestStep }): JSX.Element {
  const known = tests().find((each) => each.id === step.test);
  const right = (outcome: string): void => {
    const id = job.peek()?.id;
    if (id) void putRight(id, "tests", { step: step.id, change: { outcome }, before: { outcome: step.outcome } });
  };
  return (
    <Sheet title={t().app.whatDidItShow} onClose={closeSheet}>
      <p class="slip-title">{titleOf(phone.trade.value.tests, step.test)}</p>
      {known?.outcomes.map((each) => <Stub key={each.id} title={sentence(each.means || each.id)} pressed={each.id === step.outcome} shape={each.id === step.outcome ? "tick" : "ring"} onTap={() => right(each.id)} />)}
      {!known && <p>{t().app.thisTestIsNotOn}</p>}
    </Sheet>
  );
}

function RightReading({ step }: { step: ReadingStep }): JSX.Element {
  const trade = phone.trade.value;
  const save = (reading: ReadingBody): void => {
    const id = job.peek()?.id;
    const before = { value: step.value, unit: step.unit, point: step.point, conditions: step.conditions };
    const change = { value: reading.value, unit: reading.unit, point: reading.point ?? "", conditions: reading.conditions ?? {} };
    if (id) void putRight(id, "readings", { step: step.id, change, before });
  };
  return (
    <ReadingSheet
      trade={trade} quantity={step.quantity} offered={[]} title={t().app.putItRight} when={step.when} unit={step.unit} given={{ value: step.value, point: step.point }} system={shop.value?.unit_system ?? "si"}
      kept={keptFrom([step], trade.conditions)} judge={(reading) => judge(reading, trade)} onSave={save} onClose={closeSheet}
    />
  );
}

/** Written down, and the sheet is gone. */
const saved = (act: () => Promise<unknown>): void => {
  closeSheet();
  void act();
};

export function OpenSheet(): JSX.Element | null {
  const open = sheet.value;
  const trade = phone.trade.value;
  switch (open?.kind) {
    case undefined:
      return null;
    case "reading":
      return <Reading key={`${open.test} ${open.quantity} ${open.when}`} open={open} />;
    case "test":
      return <TestSheet trade={trade} systems={systemsNow()} complaint={job.value?.it.complaint ?? ""} test={open.test} onOutcome={takeOutcome} onMeasure={measure} onOwn={() => (sheet.value = { kind: "own test" })} onClose={closeSheet} />;
    case "part":
      return <PartSheet trade={trade} component={open.component} systems={systemsNow()} report={partsReport.value.value} currency={currency.value} onClose={closeSheet}
        onSave={(part) => { closeSheet(); void addPart(part); }} />;
    case "skip":
      return <SkipSheet title={titleOf(trade.tests, open.test)} onClose={closeSheet} onSkip={(because) => saved(() => skipTest({ test: open.test, because }))} />;
    case "wrong":
      return <WrongSheet title={titleOf(trade.causes, open.cause)} onClose={closeSheet} onWrong={(because) => saved(() => object({ cause: open.cause, because }))} />;
    case "repair":
      return <RepairSheet trade={trade} cause={open.cause} likely={likelyNow()} systems={systemsNow()} onClose={closeSheet} onSave={(repair) => saved(() => addRepair(repair))} />;
    case "own test":
      return <OwnSheet kind="test" />;
    case "own cause":
      return <OwnSheet kind="cause" />;
    case "right test":
      return <RightTest step={open.step} />;
    case "right reading":
      return <RightReading key={open.step.id} step={open.step} />;
    case "outcome":
      return <WhichOutcome open={open} />;
    case "name":
      return <WhichPart open={open} />;
    case "note":
      return <NoteSheet text={open.text} onClose={closeSheet} onSave={(text) => saveNote(open.id, text)} onDraft={(text) => keepNote(open.id, text)} />;
    case "edit":
      return job.value && <EditSheet file={job.value.it} recent={recentCars.value} odometerUnit={odometerUnit.value} now={now.value} scanner={scanner}
        words={wordsKept("edit", open.id) ?? job.value.it.complaint} onDraft={(words) => keepWords("edit", open.id, words)} onClose={() => dropWords("edit", open.id)} onSave={(edited) => amend(open.id, edited)} />;
    case "reopen":
      return <ReopenSheet complaint={wordsKept("reopen", open.id) ?? job.value?.it.complaint ?? ""} onDraft={(words) => keepWords("reopen", open.id, words)}
        onClose={() => dropWords("reopen", open.id)} onReopen={(body) => reopen(open.id, body)} />;
  }
}
