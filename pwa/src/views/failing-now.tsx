/** What needs the manager now: a line each, which leads to its part. */
import type { JSX } from "preact";
import { useContext } from "preact/hooks";

import type { Part } from "../model/failing-view";
import { Bin } from "../ui/bin";
import type { Alerts, FollowUps, Overview } from "../wire";
import { Kept } from "./failing-kept";
import { Waiting, type Loaded } from "./trouble";
import { t } from "../texts";

export interface NowProps {
  /** Those that are new; null while others are looked at. */
  alerts: Loaded<Alerts> | null;
  followUps: Loaded<FollowUps>;
  overview: Loaded<Overview>;
  onRetry: () => void;
}

interface Line {
  part: Part;
  says: string;
}

/** Alerts told in full. */
const MOST = 3;

function linesOf({ alerts, followUps, overview }: NowProps): readonly Line[] {
  const raised = alerts?.value?.alerts ?? [];
  const cars = followUps.value?.follow_ups.length ?? 0;
  const lacking = overview.value?.gaps.missing.filter((each) => !each.asked).length ?? 0;
  return [
    ...raised.slice(0, MOST).map((each): Line => ({ part: "alerts", says: each.says })),
    ...(raised.length > MOST ? [{ part: "alerts", says: t().failingNow.moreAlerts(raised.length - MOST) } as const] : []),
    ...(cars > 0 ? [{ part: "care", says: t().failingNow.askAfter(cars) } as const] : []),
    ...(lacking > 0 ? [{ part: "office", says: t().failingNow.lackFacts(lacking) } as const] : []),
  ];
}

export function FailingNow(props: NowProps): JSX.Element {
  const { onAt } = useContext(Kept);
  const loads = [props.alerts, props.followUps, props.overview].filter((each) => each !== null);
  const told = loads.every((each) => each.value !== null || each.trouble !== null);
  const lines = told ? linesOf(props) : [];
  return (
    <div class="place">
      <Bin title={t().failingNow.needsYou} count={told ? lines.length : undefined}>
        {told && lines.length === 0 && <p>{t().failingNow.nothing}</p>}
        {told ? <ul class="stack now-lines">{lines.map(({ part, says }) => <li key={says}><button type="button" class="slip" onClick={() => onAt(part)}>{says}</button></li>)}</ul>
          : loads.map((each, at) => <Waiting key={at} of={each as Loaded<unknown>} words={t().failingAlerts.looking} onRetry={props.onRetry} />)}
      </Bin>
    </div>
  );
}
