/** What a finished case turned out to be: cause, correction, proof and cost. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import type { Case, Trade } from "../wire";
import { minutes, money, sentence, titleOf } from "./words";

interface Fact {
  name: string;
  words: string;
}

export function factsOf(file: Case, trade: Trade, currency: string): Fact[] {
  const { labour, cost, correction } = file;
  const worked = labour.diagnosis_min + labour.repair_min;
  const facts = [
    { name: "Cause", words: file.cause_title || titleOf(trade.causes, file.cause) },
    { name: "Not solved", words: file.unresolved_reason ? sentence(file.unresolved_reason) : "" },
    { name: "Done", words: correction?.text || [correction?.action, titleOf(trade.components, correction?.component ?? null)].filter(Boolean).join(" ") },
    { name: "Settled by", words: titleOf(trade.tests, file.confirmed_by) },
    { name: "Proof", words: file.verification || (file.verified ? "Measured again after the repair" : "") },
    { name: "Diagnosis", words: labour.diagnosis_min > 0 ? minutes(labour.diagnosis_min) : "" },
    { name: "Repair", words: labour.repair_min > 0 ? minutes(labour.repair_min) : "" },
    { name: "Cost", words: cost.total > 0 && worked + cost.parts > 0 ? money(cost.total, cost.currency || currency) : "" },
  ];
  return facts.filter((each) => each.words !== "");
}

export function CaseFacts({ file, trade, currency }: { file: Case; trade: Trade; currency: string }): JSX.Element {
  return (
    <Bin title={file.state === "closed" ? "What it was" : "How it ended"}>
      <dl class="slip key-value">
        {factsOf(file, trade, currency).map((each) => [<dt key={`${each.name}-name`}>{each.name}</dt>, <dd key={each.name}>{each.words}</dd>])}
      </dl>
      {file.state === "closed" && !file.verified && <p class="strong">Not proved by a reading: it counts for less.</p>}
    </Bin>
  );
}
