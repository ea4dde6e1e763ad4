/** Whether the shop's own closed cases made the chances better than the shipped ones. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import type { Tuning } from "../wire";
import { ago, figure } from "./words";
import { t } from "../texts";

/** By how many percent the held-out loss fell; null where it is not known. */
function bettered({ shipped_loss: shipped, tuned_loss: tuned }: Pick<Tuning, "shipped_loss" | "tuned_loss">): number | null {
  return shipped === null || tuned === null || shipped <= 0 ? null : Math.round((100 * (shipped - tuned)) / shipped);
}

export function tunedWords(tuning: Tuning, now: Date): string {
  if (tuning.when === null) return t().shopTuned.notTunedYetTheShipped;
  const gain = bettered(tuning);
  const when = t().shopTuned.tunedOnCases(figure(tuning.cases), ago(tuning.when, now));
  if (!tuning.adopted) return t().shopTuned.noBetterThanShippedOn(when);
  return gain === null ? t().shopTuned.inUse(when) : t().shopTuned.better(when, gain);
}

export function TunedLine({ tuning, now }: { tuning: Tuning | null; now: Date }): JSX.Element | null {
  return tuning && <Bin title={t().shopTuned.tunedToThisShop}><p class="slip">{tunedWords(tuning, now)}</p></Bin>;
}
