/** What a finished case turned out to be: cause, correction, proof and cost. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import type { Case, Trade } from "../wire";
import { minutes, money, named, titleOf } from "./words";
import { t } from "../texts";

interface Fact {
  name: string;
  words: string;
}

export function factsOf(file: Case, trade: Trade, currency: string): Fact[] {
  const { labour, cost, correction } = file;
  const worked = labour.diagnosis_min + labour.repair_min;
  const facts = [
    { name: t().caseFacts.cause, words: file.cause_title || titleOf(trade.causes, file.cause) },
    { name: t().caseFacts.notSolved, words: file.unresolved_reason ? named(file.unresolved_reason) : "" },
    { name: t().caseFacts.done, words: correction?.text || [correction?.action, titleOf(trade.components, correction?.component ?? null)].filter(Boolean).join(" ") },
    { name: t().caseFacts.settledBy, words: titleOf(trade.tests, file.confirmed_by) },
    { name: t().caseFacts.proof, words: file.verification || (file.verified ? t().caseFacts.measuredAgainAfterTheRepair : "") },
    { name: t().caseFacts.diagnosis, words: labour.diagnosis_min > 0 ? minutes(labour.diagnosis_min) : "" },
    { name: t().caseFacts.repair, words: labour.repair_min > 0 ? minutes(labour.repair_min) : "" },
    { name: t().caseFacts.cost, words: cost.total > 0 && worked + cost.parts > 0 ? money(cost.total, cost.currency || currency) : "" },
  ];
  return facts.filter((each) => each.words !== "");
}

export function CaseFacts({ file, trade, currency }: { file: Case; trade: Trade; currency: string }): JSX.Element {
  return (
    <Bin title={file.state === "closed" ? t().caseFacts.whatItWas : t().caseFacts.howItEnded}>
      <dl class="slip key-value">
        {factsOf(file, trade, currency).map((each) => [<dt key={`${each.name}-name`}>{each.name}</dt>, <dd key={each.name}>{each.words}</dd>])}
      </dl>
      {file.state === "closed" && !file.verified && <p class="strong">{t().caseFacts.notProvedByAReading}</p>}
    </Bin>
  );
}
