/** Whether the shop's own closed cases made the chances better than the shipped ones. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import type { Tuning } from "../wire";
import { ago } from "./words";

/** By how many percent the held-out loss fell; null where it is not known. */
export function bettered({ shipped_loss: shipped, tuned_loss: tuned }: Pick<Tuning, "shipped_loss" | "tuned_loss">): number | null {
  return shipped === null || tuned === null || shipped <= 0 ? null : Math.round((100 * (shipped - tuned)) / shipped);
}

export function tunedWords(tuning: Tuning, now: Date): string {
  if (tuning.when === null) return "Not tuned yet: the shipped weights are in use.";
  const gain = bettered(tuning);
  const when = `Tuned on ${tuning.cases} cases, ${ago(tuning.when, now)}`;
  if (!tuning.adopted) return `${when}: no better than shipped on cases held back, so the shipped weights stay.`;
  return `${when}; ${gain === null ? "in use" : `${gain} % less wrong than shipped on cases held back`}.`;
}

export function TunedLine({ tuning, now }: { tuning: Tuning | null; now: Date }): JSX.Element | null {
  return tuning && <Bin title="Tuned to this shop"><p class="slip">{tunedWords(tuning, now)}</p></Bin>;
}
