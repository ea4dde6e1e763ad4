/** How each kind of part did before, said before it is ordered. */
import type { JSX } from "preact";

import type { ComponentParts, PartsReport, SourceRow } from "../wire";
import { money, percent, sentence } from "./words";

function Row({ row, currency }: { row: SourceRow; currency: string }): JSX.Element {
  const bad = [row.partly && `${row.partly} partly`, row.no_change && `${row.no_change} no change`, row.failed_later && `${row.failed_later} failed later`].filter(Boolean);
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{sentence(row.source)}</span>
        <span class="number">cured {row.cured} of {row.tried}</span>
      </div>
      {bad.length > 0 && <p>{bad.join(", ")}</p>}
      {row.success !== null && row.low !== null && row.high !== null && (
        <p class="soft">Chance it cures {percent(row.success)}, honestly between {percent(row.low)} and {percent(row.high)}</p>
      )}
      {row.expected_cost !== null && <p>All the way to a working car about <b>{money(row.expected_cost, currency)}</b></p>}
    </li>
  );
}

export function SourceRows({ component, currency }: { component: ComponentParts; currency: string }): JSX.Element {
  return (
    <>
      {component.says && <p class="strong">{component.says}</p>}
      <ul class="stack" aria-label={`How parts did: ${component.title}`}>
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
