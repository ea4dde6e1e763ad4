/** What the last answer says of the job at hand, for the sheets over it. */
import { answer, job } from "./app-job";
import { phone } from "./app-state";
import { titleOf } from "./views/words";
import type { Advice, CauseChance } from "./wire";

/** The answer to the job at hand, the phone's own too; null where it is another's. */
export function adviceNow(): Advice | null {
  const { asked, job: of } = answer.value;
  return (asked?.kind === "advice" || asked?.kind === "local") && of === job.value?.id ? asked.advice : null;
}

export type Likely = Pick<CauseChance, "cause" | "title" | "system">;

/** The likely causes; without signal those of the like cases on this phone. */
export function likelyNow(): readonly Likely[] {
  const { asked, job: of } = answer.value;
  if (asked?.kind !== "local" || asked.advice || of !== job.value?.id) return adviceNow()?.causes ?? [];
  const found = asked.found.flatMap(({ case: file }) => (file.cause ? [{ cause: file.cause, title: titleOf(phone.trade.value.causes, file.cause), system: file.cause_system }] : []));
  return [...new Map(found.map((each) => [each.cause, each])).values()];
}

/** Signs said and signs heard in the words. */
export function signsNow(): string[] {
  const heard = adviceNow()?.symptoms.map((each) => each.symptom) ?? [];
  return [...new Set([...(job.value?.it.symptoms ?? []), ...heard])];
}

/** Systems of the likely causes and the signs, for what to offer first. */
export function systemsNow(): string[] {
  const causes = likelyNow().map((each) => each.system ?? "");
  const signs = phone.trade.value.symptoms.filter((each) => job.value?.it.symptoms.includes(each.id)).flatMap((each) => each.systems);
  const { asked } = answer.value;
  const found = asked?.kind === "local" ? asked.found.map((each) => each.case.cause_system ?? "") : [];
  return [...new Set([...causes, ...signs, ...found])].filter(Boolean);
}
