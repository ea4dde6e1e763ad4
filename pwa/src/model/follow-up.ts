/** Finished jobs whose customer should be called, the riskiest first. */

import type { Case } from "../wire";

export type Risk = "unproved" | "away" | "partly" | "cheap" | "untested";

export interface ToCall<T extends Case = Case> {
  readonly file: T;
  readonly days: number;
  /** What makes it doubtful, worst first. */
  readonly risks: readonly Risk[];
}

const DUE_DAYS = 14;
/** Later nobody remembers what it was about. */
const LAST_DAYS = 60;
const DAY_MS = 86_400_000;
/** How much each weighs; from the memory of working practice, no published source. */
const WEIGHTS: Readonly<Record<Risk, number>> = { unproved: 4, partly: 3, away: 2, cheap: 2, untested: 1 };
const CHEAP = new Set(["aftermarket", "used", "rebuilt"]);

function risksOf(file: Case): readonly Risk[] {
  const found: readonly (readonly [Risk, boolean])[] = [
    ["unproved", !file.verified],
    ["partly", file.parts.some(({ result }) => result === "partly") && !file.parts.some(({ result }) => result === "cured")],
    ["away", file.comes_and_goes],
    ["cheap", file.parts.some(({ source, result }) => CHEAP.has(source) && result !== "no change")],
    ["untested", file.confirmed_by === null],
  ];
  return found.filter(([, is]) => is).map(([risk]) => risk);
}

const weightOf = (risks: readonly Risk[]): number => risks.reduce((sum, risk) => sum + WEIGHTS[risk], 0);
const daysSince = (when: string, now: Date): number => Math.floor((now.getTime() - new Date(when).getTime()) / DAY_MS);

/** A case that was touched after it was due has been called, or came up otherwise. */
const wasCalled = ({ closed, updated }: Case): boolean => closed !== null && updated !== null && new Date(updated).getTime() - new Date(closed).getTime() >= DUE_DAYS * DAY_MS;

/** Closed two weeks ago and more, not come back, not called; doubtful ones only, the riskiest and then the longest waiting first. */
export function toCall<T extends Case>(files: readonly T[], now: Date): readonly ToCall<T>[] {
  const due = files.flatMap((file) => {
    if (file.state !== "closed" || file.closed === null || file.joined_into || file.returned_as.length > 0 || wasCalled(file)) return [];
    const [days, risks] = [daysSince(file.closed, now), risksOf(file)];
    return days >= DUE_DAYS && days <= LAST_DAYS && risks.length > 0 ? [{ file, days, risks }] : [];
  });
  return due.sort((a, b) => weightOf(b.risks) - weightOf(a.risks) || b.days - a.days);
}
