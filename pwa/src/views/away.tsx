/** A fault that is not there today, and the conditions in which it does show. */
import type { JSX } from "preact";

import { toggled } from "../model/draft";
import { SHOWS_WHEN } from "../model/shows-when";
import { PickSome } from "../ui/chips";
import { Switch } from "../ui/field";
import { Shape } from "../ui/shape";

export interface AwayProps {
  away: boolean;
  shows: readonly string[];
  onAway: (away: boolean) => void;
  onShows: (shows: readonly string[]) => void;
}

export const showsWords = (ids: readonly string[]): string => ids.map((id) => SHOWS_WHEN.find((each) => each.id === id)?.title ?? id.replaceAll("_", " ")).join(", ").toLowerCase();

export function Away({ away, shows, onAway, onShows }: AwayProps): JSX.Element {
  return (
    <div class="stack">
      <Switch label="Fault not seen today" on={away} onFlip={onAway}>
        <Shape name={away ? "boxTick" : "box"} />
        <span>
          Fault not seen today
          <span class="soft"> {away ? "(an OK now proves little)" : "(tick if it comes and goes)"}</span>
        </span>
      </Switch>
      {(away || shows.length > 0) && (
        <PickSome paired label="It shows when" values={shows} choices={SHOWS_WHEN.map((each) => ({ value: each.id, label: each.title }))} onFlip={(id) => onShows(toggled(shows, id))} />
      )}
    </div>
  );
}
