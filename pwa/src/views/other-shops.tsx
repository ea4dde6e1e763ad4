/** What other shops of the service found on such a complaint: told beside the answer, counted for nothing in it. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import type { Trade } from "../wire";
import type { Elsewhere } from "../wire-sharing";
import { reasonsOf } from "./before";
import { percent, sentence, titleOf } from "./words";
import { t } from "../texts";

export interface OtherShopsProps {
  trade: Trade;
  /** Their like cases, or why they cannot be told. */
  onAsk: () => Promise<Elsewhere | string>;
}

function Row({ row, trade }: { row: Elsewhere["cases"][number]; trade: Trade }): JSX.Element {
  const cause = row.cause_title || titleOf(trade.causes, row.cause);
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{cause || row.title}</span>
        <span class="percent">{percent(row.chance)}</span>
      </div>
      {row.correction && <p>{t().before.done(row.correction)}</p>}
      <p class="soft">{[row.vehicle, cause && row.title].filter(Boolean).map(sentence).join(" · ")}</p>
      <p class="reasons">{reasonsOf(row.why, trade).map((each) => <span class="reason" key={each.name}><b>{each.name}:</b> {each.words}</span>)}</p>
    </li>
  );
}

export function OtherShops({ trade, onAsk }: OtherShopsProps): JSX.Element {
  const [found, keep] = useState<Elsewhere | null>(null);
  const [wrong, tell] = useState("");
  const ask = async (): Promise<void> => {
    const answer = await onAsk();
    tell(typeof answer === "string" ? answer : "");
    if (typeof answer !== "string") keep(answer);
  };
  if (!found) {
    return (
      <>
        <Button wide onTap={() => void ask()}>{t().sharing.askOthers}</Button>
        {wrong && <Notice kind="warn" title={wrong} />}
      </>
    );
  }
  return (
    <Bin title={t().sharing.otherShops} count={found.cases.length}>
      {found.cases.length === 0 && <Empty title={t().sharing.noneLike} />}
      <ul class="plain">{found.cases.map((row) => <Row key={row.case} row={row} trade={trade} />)}</ul>
      <p class="soft small">{t().sharing.countsForNothing}</p>
    </Bin>
  );
}
