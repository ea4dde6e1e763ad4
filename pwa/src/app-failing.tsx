/** What keeps failing, wired to the service; loaded after the start by those who open it. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { isManager, partsReport } from "./app-parts";
import * as reports from "./app-reports";
import * as app from "./app-state";
import { FailingAlerts } from "./views/failing-alerts";
import { FailingFigures } from "./views/failing-figures";
import { FailingOffice } from "./views/failing-office";
import { FailingScreen } from "./views/failing";
import type { Loaded } from "./views/trouble";
import type { Alert, Alerts, Life, Memory, Overview, Shelf, Timeline } from "./wire";
import { parseAlerts, parseLife, parseMemory, parseOverview, parseShelf, parseTimeline } from "./wire-office";
import { t } from "./texts";

const { phone, nothingYet } = app;
const alerts = signal<Loaded<Alerts>>(nothingYet);
const timeline = signal<Loaded<Timeline>>(nothingYet);
const life = signal<Loaded<Life>>(nothingYet);
const overview = signal<Loaded<Overview>>(nothingYet);
const shelf = signal<Loaded<Shelf>>(nothingYet);
const memory = signal<Loaded<Memory>>(nothingYet);

const loadAlerts = (): Promise<void> => app.load(alerts, () => phone.report("/alerts", parseAlerts));

async function settle(id: string, state: Alert["state"], reason: string): Promise<void> {
  const answer = await phone.settleAlert(id, state, reason);
  if (answer.kind === "ok") app.say({ text: state === "muted" ? t().failing.muted : t().failing.acknowledged });
  await loadAlerts();
}

/** A row's months, and its part's life where the row names model and part. */
async function openRow(key: Readonly<Record<string, string>>): Promise<void> {
  timeline.value = life.value = nothingYet;
  const asked = new URLSearchParams({ by: Object.keys(key).join(","), ...key });
  await app.load(timeline, () => phone.report(`/recurrences/months?${asked}`, parseTimeline));
  const { model, component } = key;
  if (!model || !component) return;
  await app.load(life, () => phone.report(`/recurrences/life?${new URLSearchParams({ model, component })}`, parseLife));
}

async function loadOffice(): Promise<void> {
  await Promise.all([
    app.load(overview, () => phone.report("/office", parseOverview)),
    app.load(shelf, () => phone.report("/shelf", parseShelf)),
  ]);
}

const loadMemory = (): Promise<void> => app.load(memory, () => phone.report("/memory", parseMemory));

async function takeFile(path: string, name: string): Promise<void> {
  const answer = await phone.reportFile(path);
  if (answer.kind !== "ok") return app.say({ text: t().failing.fileNeedsSignal });
  const address = URL.createObjectURL(answer.value);
  Object.assign(document.createElement("a"), { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

export function FailingPlace(): JSX.Element {
  useEffect(() => {
    void reports.loadFailing();
    if (isManager()) void Promise.all([loadAlerts(), loadOffice()]);
  }, []);
  const manager = phone.me.value?.member.role === "manager";
  return (
    <>
      {manager && <FailingAlerts alerts={alerts.value} onSettle={(id, state, reason) => void settle(id, state, reason)} onRetry={() => void loadAlerts()} />}
      <FailingScreen manager={manager} online={app.online.value} recurrences={reports.recurrences.value} parts={partsReport.value} by={reports.countedBy.value}
        files={phone.cases.value} trade={phone.trade.value} currency={app.currency.value} now={app.now.value} onBy={reports.countBy} onRetry={() => void reports.loadFailing()} />
      {manager && <FailingFigures recurrences={reports.recurrences.value.value} timeline={timeline.value} life={life.value} odometerUnit={app.odometerUnit.value} onRow={(key) => void openRow(key)} onFile={(path, name) => void takeFile(path, name)} by={reports.countedBy.value} />}
      {manager && <FailingOffice overview={overview.value} shelf={shelf.value} memory={memory.value} onMemory={() => void loadMemory()} onRetry={() => void loadOffice()} onFile={(path, name) => void takeFile(path, name)} />}
    </>
  );
}
