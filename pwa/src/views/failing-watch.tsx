/** What this shop keeps finding on the model at hand, and how often it was something else. Under a fold: it proves nothing. */
import type { JSX } from "preact";

import { Fold } from "../ui/fold";
import type { WatchList } from "../wire";
import { t } from "../texts";

const percent = (share: number): string => `${Math.round(share * 100)} %`;

export function FailingWatch({ found }: { found: WatchList }): JSX.Element | null {
  if (found.watch.length === 0) return null;
  return (
    <div class="place">
      <Fold title={t().failingWatch.foundBefore(found.model, found.watch.length)}>
        <p>{t().failingWatch.toBeConfirmed}</p>
        <ul class="stack">
          {found.watch.map((each) => <li key={each.component}>{t().failingWatch.found(each.title, { found: each.found, jobs: each.jobs, notIt: percent(each.not_it) })}</li>)}
        </ul>
      </Fold>
    </div>
  );
}
