/** One tap that says why: a proposed test not done, or a proposed cause held to be wrong. */
import type { JSX } from "preact";

import { Sheet } from "../ui/sheet";
import { Stub } from "../ui/tag";
import { OBJECTIONS, SKIP_REASONS, type Objection, type SkipReason } from "../wire";

const SKIPS: Readonly<Record<SkipReason, { title: string; then: string }>> = {
  "no tool": { title: "No tool for it", then: "left out on this job" },
  "no right": { title: "Not allowed to", then: "left out; somebody with the right may" },
  "no access": { title: "Cannot get at it", then: "left out on this job" },
  "not now": { title: "Not now", then: "comes again later" },
  other: { title: "Another reason", then: "left out on this job" },
};

const WRONGS: Readonly<Record<Objection, { title: string; then: string }>> = {
  "already renewed": { title: "Already renewed", then: "a new part can still be bad: it only falls" },
  "proved good": { title: "Proved good", then: "measured or swapped, and fine" },
  "not on this car": { title: "Not on this car", then: "this car has none" },
  "does not fit": { title: "Does not fit", then: "the fault would look otherwise" },
};

export const skipWords = (because: SkipReason): string => SKIPS[because].title;
export const wrongWords = (because: Objection): string => WRONGS[because].title;

export function SkipSheet({ title, onSkip, onClose }: { title: string; onSkip: (because: SkipReason) => void; onClose: () => void }): JSX.Element {
  return (
    <Sheet title="Why not this test?" onClose={onClose}>
      <p class="slip-title">{title}</p>
      {SKIP_REASONS.map((each) => <Stub key={each} {...SKIPS[each]} onTap={() => onSkip(each)} />)}
    </Sheet>
  );
}

export function WrongSheet({ title, onWrong, onClose }: { title: string; onWrong: (because: Objection) => void; onClose: () => void }): JSX.Element {
  return (
    <Sheet title="Wrong, because" onClose={onClose}>
      <p class="slip-title">{title}</p>
      {OBJECTIONS.map((each) => <Stub key={each} {...WRONGS[each]} shape="cross" onTap={() => onWrong(each)} />)}
    </Sheet>
  );
}
