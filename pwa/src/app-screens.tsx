/** The places of the start, fed by the signals and wired to the acts. */
import type { JSX } from "preact";

import * as drafts from "./app-draft";
import * as jobs from "./app-job";
import { AskedHere, DeskTable, scanner } from "./app-later";
import { go } from "./app-route";
import { sheet } from "./app-sheet";
import * as app from "./app-state";
import { caseState, searchFiles } from "./app-copy";
import { wide } from "./app-wide";
import { AskScreen } from "./views/ask";
import { CasesScreen } from "./views/cases";

const { phone } = app;

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
      key={draft.id} openJobs={phone.cases.value.filter((each) => each.state === "open" && !each.joined_into)} draft={draft} others={drafts.otherDrafts.value} trade={phone.trade.value} now={app.now.value} recent={drafts.recentCars.value} odometerUnit={app.odometerUnit.value}
      heard={drafts.heardSymptoms.value} scanner={scanner} car={drafts.heardCar.value} put={drafts.callsPut.value} questions={drafts.callQuestions.value} onAnswer={drafts.answerCall} trouble={trouble} onChange={drafts.changeDraft} onAsk={() => void ask()} onNew={() => void drafts.startDraft()} onTake={(id) => void drafts.takeDraft(id)}
      onDrop={(id) => void phone.dropDraft(id)} onReading={(given) => (sheet.value = { kind: "reading", quantity: "", test: null, when: "before", ...(given && { given }) })}
    />
  );
}

export function CasesPlace(): JSX.Element {
  return (
    <>
      <AskedHere />
      <CasesScreen files={phone.cases.value} trade={phone.trade.value} now={app.now.value} ready={phone.ready.value} online={app.online.value} lastSync={phone.sync.value.lastSync}
        state={caseState.value} search={searchFiles} onState={(state) => (caseState.value = state)} {...(wide.value && { table: DeskTable })} />
    </>
  );
}
