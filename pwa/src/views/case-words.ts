/** A case as plain words for a colleague: without notes, prices, names and the number of the car. */

import { stepsOf } from "../model/job";
import type { JobStep } from "../model/job";
import type { Case, Trade } from "../wire";
import { factsOf } from "./case-facts";
import { headline, measured, named, outcomeWords, titleOf, vehicleWords } from "./words";
import { t } from "../texts";

function stepWords({ kind, step }: JobStep, trade: Trade): string {
  if (kind === "test") return `${titleOf(trade.tests, step.test)}: ${outcomeWords(trade, step.test, step.outcome)}`;
  if (kind === "reading") return [titleOf(trade.quantities, step.quantity), measured(step.value, step.unit), step.point && `(${step.point})`].filter(Boolean).join(" ") + (step.when === "after" ? t().caseStep.afterTheRepair : "");
  if (kind === "part") return `${t().caseStep.fitted(titleOf(trade.components, step.component))} (${named(step.source)})${step.result ? `: ${named(step.result)}` : ""}`;
  if (kind === "repair") return `${t().caseStep.repairedWithoutANewPart(titleOf(trade.causes, step.cause))}: ${named(step.result)}`;
  return "";
}

/** What is told of its end: what it cost and how long it took stays here. */
const TOLD = (): readonly string[] => [t().caseFacts.cause, t().caseFacts.notSolved, t().caseFacts.done, t().caseFacts.proof];

export function caseText(file: Case, trade: Trade): string {
  const steps = stepsOf(file).map((each) => stepWords(each, trade)).filter(Boolean);
  const end = factsOf(file, trade, "").filter(({ name }) => TOLD().includes(name));
  return [
    headline(file),
    vehicleWords(file.vehicle),
    file.codes.join("  "),
    file.title && file.complaint !== file.title ? `“${file.complaint}”` : "",
    ...steps.map((step) => `- ${step}`),
    ...end.map(({ name, words }) => `${name}: ${words}`),
  ].filter(Boolean).join("\n");
}
