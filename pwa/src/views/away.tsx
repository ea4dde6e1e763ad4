/** A fault that is not there today, and the conditions in which it does show. */
import type { JSX } from "preact";

import { toggled } from "../model/draft";
import { SHOWS_WHEN } from "../model/shows-when";
import { PickSome } from "../ui/chips";
import { Switch } from "../ui/field";
import { Shape } from "../ui/shape";
import { t } from "../texts";

export interface AwayProps {
  away: boolean;
  shows: readonly string[];
  onAway: (away: boolean) => void;
  onShows: (shows: readonly string[]) => void;
}

const titleWhen = (id: string): string => (t().shows as Readonly<Record<string, string>>)[id] ?? id.replaceAll("_", " ");

export const showsWords = (ids: readonly string[]): string => ids.map((id) => titleWhen(id)).join(", ").toLowerCase();

export function Away({ away, shows, onAway, onShows }: AwayProps): JSX.Element {
  return (
    <div class="stack">
      <Switch label={t().away.faultNotSeenToday} on={away} onFlip={onAway}>
        <Shape name={away ? "boxTick" : "box"} />
        <span>
          {t().away.faultNotSeenToday}
          <span class="soft"> {away ? t().away.anOkNowProvesLittle : t().away.tickIfItComesAnd}</span>
        </span>
      </Switch>
      {(away || shows.length > 0) && (
        <PickSome paired label={t().away.itShowsWhen} values={shows} choices={SHOWS_WHEN.map((id) => ({ value: id, label: titleWhen(id) }))} onFlip={(id) => onShows(toggled(shows, id))} />
      )}
    </div>
  );
}
