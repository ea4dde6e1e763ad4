/** What other shops of the service found on such a complaint: told beside the answer, counted for nothing in it. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import type { Trade } from "../wire";
import type { Elsewhere } from "../wire-sharing";
import { CaseLines } from "./before";
import { t } from "../texts";

interface OtherShopsProps {
  trade: Trade;
  /** Their like cases, or why they cannot be told. */
  onAsk: () => Promise<Elsewhere | string>;
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
      <ul class="plain">{found.cases.map((row) => <li class="slip" key={row.case}><CaseLines row={row} trade={trade} /></li>)}</ul>
      <p class="soft small">{t().sharing.countsForNothing}</p>
    </Bin>
  );
}
