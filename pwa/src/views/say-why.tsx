/** One tap that says why: a proposed test not done, or a proposed cause held to be wrong. */
import type { JSX } from "preact";

import { Sheet } from "../ui/sheet";
import { Stub } from "../ui/tag";
import { OBJECTIONS, SKIP_REASONS, type Objection, type SkipReason } from "../wire";
import { t } from "../texts";

const SKIPS: Readonly<Record<SkipReason, { title: string; then: string }>> = {
  "no tool": { get title() { return t().sayWhy.noToolForIt; }, get then() { return t().sayWhy.leftOutOnThisJob; } },
  "no right": { get title() { return t().sayWhy.notAllowedTo; }, get then() { return t().sayWhy.leftOutSomebodyWithThe; } },
  "no access": { get title() { return t().sayWhy.cannotGetAtIt; }, get then() { return t().sayWhy.leftOutOnThisJob; } },
  "not now": { get title() { return t().sayWhy.notNow; }, get then() { return t().sayWhy.comesAgainLater; } },
  other: { get title() { return t().sayWhy.anotherReason; }, get then() { return t().sayWhy.leftOutOnThisJob; } },
};

const WRONGS: Readonly<Record<Objection, { title: string; then: string }>> = {
  "already renewed": { get title() { return t().sayWhy.alreadyRenewed; }, get then() { return t().sayWhy.aNewPartCanStill; } },
  "proved good": { get title() { return t().sayWhy.provedGood; }, get then() { return t().sayWhy.measuredOrSwappedAndFine; } },
  "not on this car": { get title() { return t().sayWhy.notOnThisCar; }, get then() { return t().sayWhy.thisCarHasNone; } },
  "does not fit": { get title() { return t().sayWhy.doesNotFit; }, get then() { return t().sayWhy.theFaultWouldLookOtherwise; } },
};

export const skipWords = (because: SkipReason): string => SKIPS[because].title;
export const wrongWords = (because: Objection): string => WRONGS[because].title;

export function SkipSheet({ title, onSkip, onClose }: { title: string; onSkip: (because: SkipReason) => void; onClose: () => void }): JSX.Element {
  return (
    <Sheet title={t().sayWhy.whyNotThisTest} onClose={onClose}>
      <p class="slip-title">{title}</p>
      {SKIP_REASONS.map((each) => <Stub key={each} {...SKIPS[each]} onTap={() => onSkip(each)} />)}
    </Sheet>
  );
}

export function WrongSheet({ title, onWrong, onClose }: { title: string; onWrong: (because: Objection) => void; onClose: () => void }): JSX.Element {
  return (
    <Sheet title={t().sayWhy.wrongBecause} onClose={onClose}>
      <p class="slip-title">{title}</p>
      {OBJECTIONS.map((each) => <Stub key={each} {...WRONGS[each]} shape="cross" onTap={() => onWrong(each)} />)}
    </Sheet>
  );
}
