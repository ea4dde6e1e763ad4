/** What the manager should hear of: each alert with what it says, to be acknowledged or muted. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { ALERTS } from "../model/failing-view";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import type { Alert, Alerts } from "../wire";
import { At } from "./failing-at";
import { KeptFold } from "./failing-kept";
import { Waiting, type Loaded } from "./trouble";
import { day } from "./words";
import { t } from "../texts";

const KINDS: Readonly<Record<Alert["kind"], string>> = { get signal() { return t().failingAlerts.standsOut; }, get trend() { return t().failingAlerts.rises; }, get source() { return t().failingAlerts.partsFail; }, get comebacks() { return t().failingAlerts.comesBack; } };

export interface AlertsProps {
  alerts: Loaded<Alerts>;
  shown: Alert["state"];
  onShow: (state: Alert["state"]) => void;
  onSettle: (id: string, state: Alert["state"], reason: string) => void;
  onRetry: () => void;
}

function Mute({ onMute }: { onMute: (reason: string) => void }): JSX.Element {
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState("");
  if (!open) return <Button kind="quiet" onTap={() => setOpen(true)}>{t().failingAlerts.mute}</Button>;
  return (
    <form onSubmit={(event) => { event.preventDefault(); if (reason.trim()) onMute(reason.trim()); }}>
      <label class="field"><span class="legend">{t().failingAlerts.whyNotHeard}</span>
        <input value={reason} maxLength={500} onInput={(event) => setReason(event.currentTarget.value)} /></label>
      <button class="button" disabled={!reason.trim()}>{t().failingAlerts.muteWithThisReason}</button>
    </form>
  );
}

function One({ alert, onSettle }: { alert: Alert } & Pick<AlertsProps, "onSettle">): JSX.Element {
  return (
    <li class="slip">
      <p class="verdict bad">{KINDS[alert.kind]}{alert.sure ? "" : t().failingAlerts.anEarlyHint}</p>
      <p class="strong">{alert.says}</p>
      <p class="soft">{t().failingAlerts.since(day(alert.raised))}</p>
      {alert.cases.slice(-3).map((id) => <a key={id} class="button quiet" href={`#/case/${id}`}>{t().failingAlerts.aCaseOfIt}</a>)}
      {alert.settled && <p class="soft">{[t().failingAlerts.settledBy(day(alert.settled), alert.by ?? ""), alert.reason].filter(Boolean).join(": ")}</p>}
      {alert.state === "open" && <Button onTap={() => onSettle(alert.id, "acknowledged", "")}>{t().failingAlerts.iTakeCareOfIt}</Button>}
      {alert.state === "open" && <Mute onMute={(reason) => onSettle(alert.id, "muted", reason)} />}
      {(alert.state === "acknowledged" || alert.state === "muted") && <Button onTap={() => onSettle(alert.id, "open", "")}>{t().failingAlerts.openAgain}</Button>}
    </li>
  );
}

/** Alerts shown at once. */
const FIRST = 5;
const SHOWN = ALERTS.map((value) => ({ value, get label() { return t().failingAlerts.states[value]; } }));

export function FailingAlerts({ alerts, shown, onShow, onSettle, onRetry }: AlertsProps): JSX.Element {
  const held = alerts.value?.alerts ?? [];
  return (
    <At part="alerts" says={alerts.value && shown === "open" ? t().failingSays.raised(held.length) : undefined}>
      <Bin title={t().failingAlerts.newToHearOf} count={alerts.value ? held.length : undefined}>
        <PickOne label={t().failingAlerts.whichAlerts} shown={false} value={shown} choices={SHOWN} onPick={(state) => onShow(state as Alert["state"])} />
        <Waiting of={alerts} words={t().failingAlerts.looking} onRetry={onRetry} />
        {alerts.value && held.length === 0 && <p>{shown === "open" ? t().failingAlerts.nothingNew : t().failingAlerts.noneSuch}</p>}
        <ol class="stack">{held.slice(0, FIRST).map((each) => <One key={each.id} alert={each} onSettle={onSettle} />)}</ol>
        {held.length > FIRST && <KeptFold id="alerts" title={t().failingAlerts.more(held.length - FIRST)}><ol class="stack">{held.slice(FIRST).map((each) => <One key={each.id} alert={each} onSettle={onSettle} />)}</ol></KeptFold>}
      </Bin>
    </At>
  );
}
