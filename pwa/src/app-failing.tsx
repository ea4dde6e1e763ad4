/** What keeps failing, wired to the service; loaded after the start by those who open it. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { copyText } from "./app-copy-text";
import * as rows from "./app-failing-rows";
import { wide } from "./app-wide";
import { isManager, loadParts, partsReport } from "./app-parts";
import * as app from "./app-state";
import { rowsAsked, type Names, type Part } from "./model/failing-view";
import { saveFile } from "./ui/save-file";
import { FailingAlerts } from "./views/failing-alerts";
import { FailingCare } from "./views/failing-care";
import { goTo, Ways } from "./views/failing-at";
import { FailingNow } from "./views/failing-now";
import { FailingFigures, goToMonths } from "./views/failing-figures";
import { FailingOffice } from "./views/failing-office";
import { Kept } from "./views/failing-kept";
import { FailingScreen } from "./views/failing";
import type { Loaded } from "./views/trouble";
import { anything, parseCase } from "./wire";
import type { Alert, FollowUps, Heard, Hook, Memory, Overview, Season, Sent, Shelf, Visits } from "./wire";
import { parseFactsAsked, parseFollowUps, parseHook, parseHooks, parseMemory, parseOverview, parseSeason, parseSent, parseSentList, parseShelf, parseVisits } from "./wire-office";
import { t } from "./texts";
import "./style/failing.css";

const { phone, nothingYet } = app;
const overview = signal<Loaded<Overview>>(nothingYet);
const shelf = signal<Loaded<Shelf>>(nothingYet);
const memory = signal<Loaded<Memory>>(nothingYet);
const followUps = signal<Loaded<FollowUps>>(nothingYet);
const season = signal<Loaded<Season>>(nothingYet);
const visits = signal<Loaded<Visits>>(nothingYet);
const hooks = signal<Loaded<{ readonly hooks: readonly Hook[] }>>(nothingYet);
const sent = signal<Readonly<Record<string, readonly Sent[]>>>({});

async function settle(id: string, state: Alert["state"], reason: string): Promise<void> {
  const answer = await phone.settleAlert(id, state, reason);
  if (answer.kind === "ok" && state !== "open") app.say({ text: state === "muted" ? t().failing.muted : t().failing.acknowledged });
  await rows.loadAlerts();
}

async function loadOffice(): Promise<void> {
  await Promise.all([
    app.load(overview, () => phone.report("/office", parseOverview)),
    app.load(shelf, () => phone.report("/shelf", parseShelf)),
  ]);
}

const loadMemory = (): Promise<void> => app.load(memory, () => phone.report("/memory", parseMemory));

const loadCare = async (): Promise<void> => {
  await Promise.all([
    app.load(followUps, () => phone.report("/followups", parseFollowUps)),
    app.load(season, () => phone.report("/season", parseSeason)),
    app.load(visits, () => phone.report("/visits", parseVisits)),
    app.load(hooks, () => phone.report("/hooks", parseHooks)),
  ]);
};

async function hear(id: string, outcome: Heard): Promise<void> {
  const answer = await phone.send("POST", `/cases/${id}/followed`, { outcome }, parseCase);
  app.say({ text: answer.kind === "ok" ? t().care.heardKept : t().care.refused });
  await Promise.all([app.load(followUps, () => phone.report("/followups", parseFollowUps)), loadOffice(), phone.syncNow()]);
}

/** One more car of this month, on top of what was counted. */
async function countCar(make: string, model: string): Promise<void> {
  const month = new Date().toISOString().slice(0, 7);
  const alike = (row: { month: string; make: string | null; model: string }): boolean => row.month === month && (row.make ?? "") === make && row.model === model;
  const before = visits.peek().value?.visits.find(alike)?.count ?? 0;
  const answer = await phone.send("POST", "/visits", { month, make, model, count: before + 1 }, parseVisits);
  if (answer.kind === "ok") visits.value = { value: answer.value, busy: false, trouble: null };
  app.say({ text: answer.kind === "ok" ? t().care.counted : t().care.refused });
}

async function addHook(url: string): Promise<void> {
  const answer = await phone.send("POST", "/hooks", { url }, parseHook);
  if (answer.kind !== "ok") return app.say({ text: t().care.refused });
  hooks.value = { ...hooks.peek(), value: { hooks: [...(hooks.peek().value?.hooks ?? []), answer.value] } };
}

async function removeHook(id: string): Promise<void> {
  await phone.send("DELETE", `/hooks/${id}`, undefined, anything);
  await app.load(hooks, () => phone.report("/hooks", parseHooks));
}

async function showSent(id: string): Promise<void> {
  const answer = await phone.report(`/hooks/${id}/deliveries`, parseSentList);
  if (answer.kind === "ok") sent.value = { ...sent.peek(), [id]: answer.value.sent };
}

async function testHook(id: string): Promise<void> {
  const answer = await phone.send("POST", `/hooks/${id}/test`, undefined, parseSent);
  if (answer.kind !== "ok") return app.say({ text: t().care.refused });
  app.say({ text: answer.value.trouble ? t().care.testNotTaken(answer.value.trouble) : t().care.testTaken });
  await showSent(id);
}

async function askAuthor(id: string): Promise<void> {
  const answer = await phone.send("POST", `/cases/${id}/asks`, {}, parseFactsAsked);
  app.say({ text: answer.kind === "ok" ? t().care.asked : t().care.refused });
  await loadOffice();
}

async function takeFile(path: string, name: string): Promise<void> {
  const answer = await phone.reportFile(path);
  if (answer.kind !== "ok") return app.say({ text: t().failing.fileNeedsSignal });
  saveFile(name, answer.value);
}

function takePage(): void {
  const { month } = rows.view.peek();
  void takeFile(month ? `/report?month=${month}` : "/report", month ? `month-${month}.html` : "month.html");
}

const takeRows = (): void => void takeFile(`/recurrences/table?${rowsAsked(rows.view.peek())}`, "recurrences.csv");

function chooseRow(row: Names): void {
  rows.change({ row, at: "glance" });
  goToMonths();
}

function chooseAt(at: Part | ""): void {
  rows.change({ at });
  goTo(at);
}

function ForTheManager(): JSX.Element {
  const again = (): void => void Promise.all([loadOffice(), loadCare()]);
  return (
    <>
      <FailingFigures recurrences={rows.recurrences.value.value} timeline={rows.timeline.value} life={rows.life.value} odometerUnit={app.odometerUnit.value} onRow={chooseRow} onRows={takeRows} />
      <FailingOffice overview={overview.value} shelf={shelf.value} memory={memory.value} month={rows.view.value.month} onMonth={(month) => rows.change({ month })} onPage={takePage} onAsk={(id) => void askAuthor(id)} onMemory={() => void loadMemory()} onRetry={again} />
      <FailingCare followUps={followUps.value} season={season.value} visits={visits.value} hooks={hooks.value} sent={sent.value} onHeard={(id, outcome) => void hear(id, outcome)} onSeen={(make, model) => void countCar(make, model)}
        onHook={(url) => void addHook(url)} onTest={(id) => void testHook(id)} onSent={(id) => void showSent(id)} onUnhook={(id) => void removeHook(id)} onRetry={again} />
    </>
  );
}

const Alerts = (): JSX.Element => (
  <FailingAlerts alerts={rows.alerts.value} shown={rows.view.value.alerts} onShow={(state) => rows.change({ alerts: state })} onSettle={(id, state, reason) => void settle(id, state, reason)} onRetry={() => void rows.loadAlerts()} />
);

export function FailingPlace(): JSX.Element {
  useEffect(() => {
    void loadParts();
    if (isManager()) void Promise.all([loadOffice(), loadCare()]);
    return rows.follow();
  }, []);
  const manager = phone.me.value?.member.role === "manager";
  const filled = rows.recurrences.value.value !== null && overview.value.value !== null;
  useEffect(() => {
    const { at } = rows.view.peek();
    if (filled && at) goTo(at);
  }, [filled]);
  const { open, orders, at, alerts } = rows.view.value;
  const kept = { open, orders, onOpen: rows.unfold, onOrder: rows.sort, at, onAt: chooseAt, whole: wide.value || !manager };
  const told = rows.alerts.value.value !== null || rows.alerts.value.trouble !== null;
  const now = manager && <FailingNow alerts={alerts === "open" ? rows.alerts.value : null} followUps={followUps.value} overview={overview.value} onRetry={() => void Promise.all([rows.loadAlerts(), loadOffice(), loadCare()])} />;
  // What stands above comes first, so that nothing is pushed down while it is read.
  if (manager && !told) return <Kept.Provider value={kept}>{now}</Kept.Provider>;
  return (
    <Kept.Provider value={kept}>
      {now}
      {manager && <Alerts />}
      <FailingScreen manager={manager} online={app.online.value} recurrences={rows.recurrences.value} parts={partsReport.value} view={rows.view.value} known={rows.known.value}
        files={phone.cases.value} trade={phone.trade.value} currency={app.currency.value} odometerUnit={app.odometerUnit.value} now={app.now.value} onRow={chooseRow} onView={rows.change} onLink={() => void copyText(rows.address(), t().failingFilter.addressCopied)} onRetry={() => void rows.loadRows()} />
      {manager && <ForTheManager />}
      {manager && <Ways />}
    </Kept.Provider>
  );
}
