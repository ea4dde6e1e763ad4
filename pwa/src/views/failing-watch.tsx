/** What this shop keeps finding on the model at hand, and how often it was something else. Under a fold: it proves nothing. */
import type { JSX } from "preact";

import { Fold } from "../ui/fold";
import type { WatchList } from "../wire";

const percent = (share: number): string => `${Math.round(share * 100)} %`;

export function FailingWatch({ found }: { found: WatchList }): JSX.Element | null {
  if (found.watch.length === 0) return null;
  return (
    <div class="place">
      <Fold title={`Found before on ${found.model}: ${found.watch.length}`}>
        <p>Still to be confirmed on this car.</p>
        <ul class="stack">
          {found.watch.map((each) => <li key={each.component}>{each.title}: {each.found} of {each.jobs} such jobs here. In {percent(each.not_it)} it was something else.</li>)}
        </ul>
      </Fold>
    </div>
  );
}
