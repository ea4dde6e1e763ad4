/** How each kind of part did before, said before it is ordered. */
import type { JSX } from "preact";

import type { ComponentParts, PartsReport, SourceRow } from "../wire";
import { money, named, percent } from "./words";
import { t } from "../texts";

function Row({ row, currency }: { row: SourceRow; currency: string }): JSX.Element {
  const bad = [row.partly && t().partMemory.partly(row.partly), row.no_change && t().partMemory.noChange(row.no_change), row.failed_later && t().partMemory.failedLater(row.failed_later)].filter(Boolean);
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{named(row.source)}</span>
        <span class="number">{t().partMemory.curedOf(row.cured, row.tried)}</span>
      </div>
      {bad.length > 0 && <p>{bad.join(", ")}</p>}
      {row.success !== null && row.low !== null && row.high !== null && (
        <p class="soft">{t().partMemory.chanceItCuresHonestlyBetween(percent(row.success), percent(row.low), percent(row.high))}</p>
      )}
      {row.expected_cost !== null && <p>{t().partMemory.allTheWayToA} <b>{money(row.expected_cost, currency)}</b></p>}
    </li>
  );
}

export function SourceRows({ component, currency }: { component: ComponentParts; currency: string }): JSX.Element {
  return (
    <>
      {component.says && <p class="strong">{component.says}</p>}
      <ul class="stack" aria-label={t().partMemory.howPartsDid(component.title)}>
        {component.sources.map((row) => <Row key={row.source} row={row} currency={currency} />)}
      </ul>
    </>
  );
}

export function PartMemory({ report, component }: { report: PartsReport | null; component: string }): JSX.Element | null {
  const found = report?.components.find((each) => each.component === component);
  if (!report || !found || found.sources.length === 0) return null;
  return <SourceRows component={found} currency={report.currency} />;
}
