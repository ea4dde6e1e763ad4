/** Each place with its view, fed by the signals and wired to the acts. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import { startedAt } from "./app-clock";
import * as drafts from "./app-draft";
import * as jobs from "./app-job";
import * as parts from "./app-parts";
import { go } from "./app-route";
import { sheet } from "./app-sheet";
import { takeOutcome } from "./app-sheets";
import * as app from "./app-state";
import { caseState, copyAge, searchFiles } from "./app-copy";
import { Busy, Empty } from "./ui/notice";
import { AdviceScreen, type AdviceProps } from "./views/advice";
import { AskScreen } from "./views/ask";
import { CasesScreen } from "./views/cases";
import type { Advice } from "./wire";

const { phone } = app;

/** Which of the two: still being read, or truly not in this phone's copy. */
export function Missing(): JSX.Element {
  const waiting = !phone.ready.value || phone.sync.value.busy;
  if (waiting) return <div class="place"><Busy>Opening the copy on this phone</Busy></div>;
  return <div class="place"><Empty title="Not in this phone's copy"><p>It may be deleted, or not fetched yet. Look again with signal.</p><a class="button" href="#/cases">Cases</a></Empty></div>;
}

async function ask(): Promise<void> {
  await drafts.saveDraftNow();
  go(`#/advice/draft/${drafts.draft.peek().id}`);
}

export function Ask(): JSX.Element {
  const { asked, job: of } = jobs.answer.value;
  const draft = drafts.draft.value;
  const trouble = asked?.kind === "refused" && of === draft.id ? asked.problem : null;
  return (
    <AskScreen
      key={draft.id} openJobs={phone.cases.value.filter((each) => each.state === "open")} draft={draft} others={drafts.otherDrafts.value} trade={phone.trade.value} now={app.now.value} recent={drafts.recentCars.value} odometerUnit={app.odometerUnit.value}
      heard={drafts.heardSymptoms.value} trouble={trouble} onChange={drafts.changeDraft} onAsk={() => void ask()} onNew={() => void drafts.startDraft()} onTake={(id) => void drafts.takeDraft(id)}
      onDrop={(id) => void phone.dropDraft(id)} onReading={(given) => (sheet.value = { kind: "reading", quantity: "", test: null, when: "before", ...(given && { given }) })}
    />
  );
}

/** The first allowed test, where the person passed over the question that was proposed. */
function chosenFor(id: string, advice: Advice | null): string | null {
  const passedOver = advice?.next.do === "ask" && jobs.isPassed(id, advice.next.question ?? advice.next.why);
  return jobs.chosen.value ?? (passedOver ? (advice.tests.find((each) => each.allowed)?.test ?? null) : null);
}

const LIKE_ENOUGH = 0.3;

/** What the likest past cases cost, to say a price span aloud. */
function paidBefore(advice: Advice | null): readonly number[] {
  const like = new Set(advice?.cases.filter((each) => each.chance >= LIKE_ENOUGH).map((each) => each.case));
  return phone.cases.value.filter((each) => like.has(each.id) && each.cost.total > 0).map((each) => each.cost.total);
}

function minutesOn(id: string, test: string | null): number | null {
  return test ? (app.now.value.getTime() - startedAt(id, test)) / 60_000 : null;
}

const openTest = (test: string | null): void => {
  sheet.value = { kind: "test", test };
};

async function toClose(): Promise<void> {
  const id = await jobs.openedCase();
  if (id) go(`#/close/${id}`);
}

export const acts: Pick<AdviceProps, "onOutcome" | "onMeasure" | "onFit" | "onClose" | "onPickTest" | "onTest" | "onReading" | "onRetry" | "onChoose" | "onAway"> = {
  onOutcome: takeOutcome,
  onMeasure: (test, quantity) => (sheet.value = { kind: "reading", quantity, test, when: "before" }),
  onFit: (component) => (sheet.value = { kind: "part", component }),
  onClose: () => void toClose(),
  onPickTest: () => openTest(null),
  onTest: openTest,
  onReading: () => (sheet.value = { kind: "reading", quantity: "", test: null, when: "before" }),
  onRetry: () => void jobs.askNow(),
  onChoose: (test) => (jobs.chosen.value = test),
  onAway: (gone) => void jobs.setAway(gone),
};

export function AdvicePlace(): JSX.Element {
  const here = jobs.job.value;
  const { asked, busy, job: of } = jobs.answer.value;
  const mine = here && of === here.id ? asked : null;
  const advice = mine?.kind === "advice" ? mine.advice : null;
  const wantsParts = advice?.next.do === "replace";
  useEffect(() => {
    if (wantsParts) void parts.loadParts();
  }, [wantsParts]);
  if (!here) return <Missing />;
  const chosen = chosenFor(here.id, advice);
  const question = advice?.next.question ?? advice?.next.why ?? "";
  return (
    <AdviceScreen
      {...acts} advice={advice} local={mine?.kind === "local" ? mine : null} busy={busy} trouble={mine?.kind === "refused" ? mine.problem : null} complaint={here.it.complaint}
      editHref={here.kind === "draft" ? "#/ask" : `#/case/${here.id}`} trade={phone.trade.value} parts={parts.partsReport.value.value} away={jobs.isAway(here.id)}
      running={minutesOn(here.id, chosen ?? advice?.next.test ?? null)} chosen={chosen} copyAge={copyAge.value} currency={app.currency.value} paid={paidBefore(advice)} onAnswer={(symptom) => void jobs.answerQuestion(question, symptom)}
    />
  );
}

export function CasesPlace(): JSX.Element {
  return (
    <CasesScreen files={phone.cases.value} trade={phone.trade.value} now={app.now.value} ready={phone.ready.value} online={app.online.value} lastSync={phone.sync.value.lastSync}
      state={caseState.value} search={searchFiles} onState={(state) => (caseState.value = state)} />
  );
}

type Office = typeof import("./app-office");

/** The paperwork comes a moment later: the first screen need not wait for it. */
function Later({ place }: { place: "CasePlace" | "ClosePlace" | "FailingPlace" | "ShopPlace" }): JSX.Element {
  const [office, setOffice] = useState<Office | null>(null);
  useEffect(() => void import("./app-office").then(setOffice), []);
  const Place = office?.[place];
  return Place ? <Place /> : <div class="place"><Busy>Opening</Busy></div>;
}

export const CasePlace = (): JSX.Element => <Later key="case" place="CasePlace" />;
export const ClosePlace = (): JSX.Element => <Later key="close" place="ClosePlace" />;
export const FailingPlace = (): JSX.Element => <Later key="failing" place="FailingPlace" />;
export const ShopPlace = (): JSX.Element => <Later key="shop" place="ShopPlace" />;
