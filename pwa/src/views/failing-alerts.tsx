/** What the manager should hear of: each alert with what it says, to be acknowledged or muted. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Alert, Alerts } from "../wire";
import { Waiting, type Loaded } from "./trouble";
import { day } from "./words";

const KINDS: Readonly<Record<Alert["kind"], string>> = { signal: "Stands out", trend: "Rises", source: "Parts fail", comebacks: "Comes back" };

export interface AlertsProps {
  alerts: Loaded<Alerts>;
  onSettle: (id: string, state: Alert["state"], reason: string) => void;
  onRetry: () => void;
}

function Mute({ onMute }: { onMute: (reason: string) => void }): JSX.Element {
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState("");
  if (!open) return <Button kind="quiet" onTap={() => setOpen(true)}>Mute</Button>;
  return (
    <form onSubmit={(event) => { event.preventDefault(); if (reason.trim()) onMute(reason.trim()); }}>
      <label class="field"><span class="legend">Why need it not be heard?</span>
        <input value={reason} maxLength={500} onInput={(event) => setReason(event.currentTarget.value)} /></label>
      <button class="button" disabled={!reason.trim()}>Mute with this reason</button>
    </form>
  );
}

function One({ alert, onSettle }: { alert: Alert } & Pick<AlertsProps, "onSettle">): JSX.Element {
  return (
    <li class="slip">
      <p class="verdict bad">{KINDS[alert.kind]}{alert.sure ? "" : ", an early hint"}</p>
      <p class="strong">{alert.says}</p>
      <p class="soft">Since {day(alert.raised)}</p>
      {alert.cases.slice(-3).map((id) => <a key={id} class="button quiet" href={`#/case/${id}`}>A case of it</a>)}
      <Button onTap={() => onSettle(alert.id, "acknowledged", "")}>Seen, I take care of it</Button>
      <Mute onMute={(reason) => onSettle(alert.id, "muted", reason)} />
    </li>
  );
}

export function FailingAlerts({ alerts, onSettle, onRetry }: AlertsProps): JSX.Element {
  const held = alerts.value?.alerts ?? [];
  return (
    <div class="place">
      <Bin title="New to hear of" count={alerts.value ? held.length : undefined}>
        <Waiting of={alerts} words="Looking" onRetry={onRetry} />
        {alerts.value && held.length === 0 && <p>Nothing new stands out. What you settled comes back if it grows.</p>}
        <ol class="stack">{held.map((each) => <One key={each.id} alert={each} onSettle={onSettle} />)}</ol>
      </Bin>
    </div>
  );
}
