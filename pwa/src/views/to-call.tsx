/** Customers to call after two weeks: three answers, one tap each. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import type { LocalCase } from "../model/local-case";
import { toCall } from "../model/follow-up";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Trade } from "../wire";
import { headline, titleOf, vehicleWords } from "./words";
import { t } from "../texts";

export interface ToCallActs {
  onCured: (file: LocalCase) => void;
  onCameBack: (file: LocalCase) => void;
  onSomethingElse: (file: LocalCase) => void;
}

const FEW = 5;

export function CustomersToCall({ files, trade, now, onCured, onCameBack, onSomethingElse }: ToCallActs & { files: readonly LocalCase[]; trade: Trade; now: Date }): JSX.Element | null {
  const [shown, setShown] = useState(FEW);
  const due = toCall(files, now);
  if (due.length === 0) return null;
  return (
    <Bin title={t().toCall.title} count={due.length}>
      <p class="soft">{t().toCall.why}</p>
      {due.slice(0, shown).map(({ file, days, risks }) => (
        <div class="slip" key={file.id}>
          <a href={`#/case/${file.id}`} class="slip-title">{file.cause_title || titleOf(trade.causes, file.cause) || headline(file)}</a>
          <p>{vehicleWords(file.vehicle)} <span class="soft">{t().toCall.days(days)}</span></p>
          <p class="strong">{risks.map((risk) => t().toCall.risks[risk]).join(", ")}</p>
          <div class="row">
            <Button shape="tick" onTap={() => onCured(file)}>{t().toCall.cured}</Button>
            <Button onTap={() => onCameBack(file)}>{t().toCall.cameBack}</Button>
            <Button onTap={() => onSomethingElse(file)}>{t().toCall.somethingElse}</Button>
          </div>
        </div>
      ))}
      {due.length > shown && <Button onTap={() => setShown(due.length)}>{t().toCall.more(due.length - shown)}</Button>}
    </Bin>
  );
}
