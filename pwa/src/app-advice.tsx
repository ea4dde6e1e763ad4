/** The answer, wired to the job at hand; loaded after the asking screen. */
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { startedAt } from "./app-clock";
import { copyAge } from "./app-copy";
import { copyText } from "./app-copy-text";
import * as jobs from "./app-job";
import { Missing } from "./app-missing";
import { takeOutcome } from "./app-outcome";
import * as parts from "./app-parts";
import { go } from "./app-route";
import { OtherShopsHere } from "./app-sharing";
import { openReading, sheet } from "./app-sheet";
import * as app from "./app-state";
import { WatchHere } from "./app-watch";
import { pastOf } from "./model/car-past";
import { AdviceScreen, type AdviceProps } from "./views/advice";
import { headline } from "./views/words";
import type { Advice } from "./wire";
import { t } from "./texts";

const { phone } = app;

/** The first allowed test, where the person passed over the question that was proposed. */
function chosenFor(id: string, advice: Advice | null): string | null {
  const passedOver = advice?.next.do === "ask" && jobs.isPassed(id, advice.next.question ?? advice.next.why);
  return jobs.chosen.value ?? (passedOver ? (advice.tests.find((each) => each.allowed)?.test ?? null) : null);
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

type Wanted = "onOutcome" | "onMeasure" | "onFit" | "onClose" | "onPickTest" | "onTest" | "onReading" | "onRetry" | "onChoose" | "onAway" | "onShows" | "onSkip" | "onWrong" | "onRepair" | "onOwnCause" | "onCopy" | "onAsTyped" | "onMend" | "onKeepWord";

const acts: Pick<AdviceProps, Wanted> = {
  onOutcome: takeOutcome,
  onMeasure: (test, quantity) => (sheet.value = { kind: "reading", quantity, test, when: "before" }),
  onFit: (component) => (sheet.value = { kind: "part", component }),
  onClose: () => void toClose(),
  onPickTest: () => openTest(null),
  onTest: openTest,
  onReading: openReading,
  onRetry: () => void jobs.askNow(),
  onChoose: (test) => (jobs.chosen.value = test),
  onAway: (gone) => void jobs.setAway(gone),
  onShows: (shows) => void jobs.setShows(shows),
  onSkip: (test) => (sheet.value = { kind: "skip", test }),
  onWrong: (cause) => (sheet.value = { kind: "wrong", cause }),
  onRepair: (cause) => (sheet.value = { kind: "repair", cause }),
  onOwnCause: () => (sheet.value = { kind: "own cause" }),
  onCopy: (text) => void copyText(text, t().app.priceCopied),
  onAsTyped: (word) => void jobs.takeAsTyped(word, true),
  onMend: (word) => void jobs.takeAsTyped(word, false),
  onKeepWord: (word) => void keepWord(word),
};

async function keepWord(word: string): Promise<void> {
  const answer = await phone.keepWord(word);
  const said = answer.kind === "refused" ? `${answer.problem.detail}: ${answer.problem.remedy}` : t().app.thisNeedsSignalTryAgain;
  app.say({ text: answer.kind === "ok" ? t().app.isAWordOfOurs(word) : said });
}

const caseTitle = (id: string): string => {
  const file = phone.cases.peek().find((each) => each.id === id);
  return file ? headline(file) : t().app.aCaseNotOnThis;
};

export function AdvicePlace(): JSX.Element {
  const here = jobs.job.value;
  const { asked, busy, fresher, backed, job: of } = jobs.answer.value;
  const mine = here && of === here.id ? asked : null;
  const local = mine?.kind === "local" ? mine : null;
  const advice = mine?.kind === "advice" ? mine.advice : (local?.advice ?? null);
  const mark = local?.advice || (backed && advice) ? { backed: Boolean(backed), copyAge: copyAge.value, fresher: Boolean(fresher), asking: busy && app.online.value, onFresher: jobs.takeFresher } : null;
  const wantsParts = advice?.next.do === "replace";
  useEffect(() => {
    if (wantsParts) void parts.loadParts();
  }, [wantsParts]);
  if (!here) return <Missing />;
  const chosen = chosenFor(here.id, advice);
  const question = advice?.next.question ?? advice?.next.why ?? "";
  const { make, model } = here.it.vehicle;
  return (
    <>
    <AdviceScreen
      {...acts} others={<OtherShopsHere id={here.id} />} advice={advice} mark={mark} local={local?.advice ? null : local} busy={busy} trouble={mine?.kind === "refused" ? mine.problem : null} complaint={here.it.complaint} past={pastOf(here.it, phone.cases.value)}
      editHref={here.kind === "draft" ? "#/ask" : `#/case/${here.id}`} trade={phone.trade.value} parts={parts.partsReport.value.value} away={jobs.isAway(here.id)} shows={here.it.shows_when} asTyped={here.it.as_typed ?? []} caseTitle={caseTitle}
      running={minutesOn(here.id, chosen ?? advice?.next.test ?? null)} chosen={chosen} copyAge={copyAge.value} onAnswer={(symptom) => void jobs.answerQuestion(question, symptom)}
    />
      {here.it.tests.length === 0 && <WatchHere make={make} model={model} />}
    </>
  );
}
