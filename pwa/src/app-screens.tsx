/** Each place with its view, fed by the signals and wired to the acts. */
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import * as cases from "./app-case";
import { adviceOf, changeClosing, closeNow, closing } from "./app-closing";
import { startedAt } from "./app-clock";
import * as drafts from "./app-draft";
import * as jobs from "./app-job";
import { isText, keptValue, wipeKept } from "./app-kept";
import * as reports from "./app-reports";
import { go } from "./app-route";
import { sheet } from "./app-sheet";
import { takeOutcome } from "./app-sheets";
import * as app from "./app-state";
import { caseState, copyAge, searchFiles } from "./app-copy";
import { isBlank } from "./model/draft";
import { Busy, Empty } from "./ui/notice";
import { AdviceScreen, type AdviceProps } from "./views/advice";
import { AskScreen } from "./views/ask";
import { CaseScreen } from "./views/case";
import { CasesScreen } from "./views/cases";
import { CloseScreen } from "./views/close";
import { FailingScreen } from "./views/failing";
import { PhotoSlip } from "./views/photo-slip";
import { ShopScreen } from "./views/shop";
import { headline } from "./views/words";
import type { Advice } from "./wire";

const { phone } = app;

/** Which of the two: still being read, or truly not in this phone's copy. */
function Missing(): JSX.Element {
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

const acts: Pick<AdviceProps, "onOutcome" | "onMeasure" | "onFit" | "onClose" | "onPickTest" | "onTest" | "onReading" | "onRetry" | "onChoose" | "onAway"> = {
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
    if (wantsParts) void reports.loadParts();
  }, [wantsParts]);
  if (!here) return <Missing />;
  const chosen = chosenFor(here.id, advice);
  const question = advice?.next.question ?? advice?.next.why ?? "";
  return (
    <AdviceScreen
      {...acts} advice={advice} local={mine?.kind === "local" ? mine : null} busy={busy} trouble={mine?.kind === "refused" ? mine.problem : null} complaint={here.it.complaint}
      editHref={here.kind === "draft" ? "#/ask" : `#/case/${here.id}`} trade={phone.trade.value} parts={reports.partsReport.value.value} away={jobs.isAway(here.id)}
      running={minutesOn(here.id, chosen ?? advice?.next.test ?? null)} chosen={chosen} copyAge={copyAge.value} onAnswer={(symptom) => void jobs.answerQuestion(question, symptom)}
    />
  );
}

function photoOf(id: string, note: string, photo: string): JSX.Element {
  const get = async (): Promise<Blob | string> => {
    const answer = await phone.photo(id, photo);
    return answer.kind === "ok" ? answer.value : "can be shown with signal";
  };
  return <PhotoSlip note={note} fetchPhoto={get} />;
}

export function CasePlace(): JSX.Element {
  const here = jobs.job.value;
  if (here?.kind !== "case") return <Missing />;
  const { id, it } = here;
  return (
    <CaseScreen
      file={it} trade={phone.trade.value} currency={app.currency.value} photo={(photo) => photoOf(id, it.photos.find((each) => each.id === photo)?.note ?? "", photo)} onReading={acts.onReading}
      onPart={() => acts.onFit("")} onPhoto={(file) => void cases.takePhoto(id, file)} onUndo={(step) => void cases.takeBack(id, step)} onResult={(step, change) => void cases.setResult(id, step, change)}
      onNote={() => (sheet.value = { kind: "note", id, text: keptValue(`note.${id}`, isText) ?? it.note })} onReopen={() => (sheet.value = { kind: "reopen", id })}
      onDelete={reports.isManager() ? () => void cases.removeCase(id) : null}
    />
  );
}

export function ClosePlace(): JSX.Element {
  const here = jobs.job.value;
  if (here?.kind !== "case") return <Missing />;
  return (
    <CloseScreen
      file={here.it} trade={phone.trade.value} shop={app.shop.value} causes={adviceOf(here.id)?.causes ?? []} form={closing.value} onForm={changeClosing} onClose={(body) => void closeNow(body)}
      onMeasure={(twin) => (sheet.value = { kind: "reading", quantity: twin.quantity, test: null, when: "after", unit: twin.unit, twin })} onResult={(step, change) => void cases.setResult(here.id, step, change)}
    />
  );
}

export function CasesPlace(): JSX.Element {
  return (
    <CasesScreen files={phone.cases.value} trade={phone.trade.value} now={app.now.value} ready={phone.ready.value} online={app.online.value} lastSync={phone.sync.value.lastSync}
      state={caseState.value} search={searchFiles} onState={(state) => (caseState.value = state)} />
  );
}

export function FailingPlace(): JSX.Element {
  useEffect(() => void reports.loadFailing(), []);
  return (
    <FailingScreen manager={phone.me.value?.member.role === "manager"} online={app.online.value} recurrences={reports.recurrences.value} parts={reports.partsReport.value} by={reports.countedBy.value}
      files={phone.cases.value} trade={phone.trade.value} currency={app.currency.value} now={app.now.value} onBy={reports.countBy} onRetry={() => void reports.loadFailing()} />
  );
}

async function leave(discardUnsent: boolean): Promise<void> {
  if (await phone.signOut({ discardUnsent })) wipeKept();
}

/** Never over unsaved words: the question being typed is put away first. */
async function takeNewVersion(): Promise<void> {
  if (!isBlank(drafts.draft.peek())) await drafts.saveDraftNow();
  phone.takeNewVersion();
}

export function ShopPlace(): JSX.Element | null {
  useEffect(() => void reports.loadShop(), []);
  const me = phone.me.value;
  if (!me) return null;
  const titleOf = (id: string): string => headline(phone.cases.value.find((each) => each.id === id) ?? { title: "", complaint: "A case" });
  return (
    <ShopScreen
      me={me} sync={phone.sync.value} outbox={phone.outbox.value} kept={phone.kept.value} newVersion={phone.newVersion.value} now={app.now.value} devices={reports.devices.value} members={reports.members.value}
      invite={reports.invite.value} memberTrouble={reports.memberTrouble.value} said={reports.shopSaid.value} caseTitle={titleOf} onSync={() => void phone.syncNow()} onRetry={(key) => void phone.retry(key)}
      onLetGo={(key) => void phone.letGo(key)} onRevoke={(id) => void reports.revoke(id)} onShop={(change) => void reports.changeShop(change)} onSignOut={(discard) => void leave(discard)}
      onNewVersion={() => void takeNewVersion()} onExport={() => void reports.takeOut()} onReload={() => void reports.loadShop()} onInvite={(member) => void reports.inviteMember(member)}
      onAddMember={(member) => void reports.addMember(member)} onAmendMember={(id, change) => void reports.amendMember(id, change)} onCopy={(link) => void reports.copyLink(link)}
    />
  );
}
