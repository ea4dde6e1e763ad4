/** Money and minutes, cures, the shelf, and what the memory is worth. Nobody is ranked. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { CureRow, Memory, Overview, Shelf } from "../wire";
import { FailingTable } from "./failing-table";
import { Waiting, type Loaded } from "./trouble";
import { money } from "./words";

export interface OfficeProps {
  overview: Loaded<Overview>;
  shelf: Loaded<Shelf>;
  memory: Loaded<Memory>;
  onMemory: () => void;
  onRetry: () => void;
  onFile: (path: string, name: string) => void;
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;
const cureRow = (row: CureRow): readonly (string | number)[] => [row.title || row.name, row.closed, row.came_back, row.cured, row.low, row.high];

function Cures({ cures }: Pick<Overview, "cures">): JSX.Element {
  const last = cures.quarters[cures.quarters.length - 1];
  return (
    <Bin title="Cured at the first visit" count={last ? percent(last.cured) : undefined}>
      <p>{last ? `In ${last.name} ${percent(last.cured)} of ${last.closed} settled cases did not come back (${percent(last.low)} to ${percent(last.high)}).` : "No case is thirty days old yet."}</p>
      <FailingTable name="cures" heads={["Quarter, system or kind", "Closed", "Came back", "Cured", "Low", "High"]} rows={[...cures.quarters, ...cures.systems, ...cures.kinds].map(cureRow)} />
    </Bin>
  );
}

function Losses({ losses, times, currency }: Overview): JSX.Element {
  const given = losses.reduce((sum, row) => sum + row.given, 0);
  return (
    <Bin title="Money and minutes" count={money(given, currency)}>
      <p>{losses[0] ? `Most was given away on: ${losses[0].title}, ${money(losses[0].given, currency)}.` : "Nothing was given away by what is written down."}</p>
      <FailingTable name="given-away" heads={["Cause", "Cases", "Minutes not billed", "Parts that did not cure", "Worth"]} rows={losses.map((row) => [row.title, row.cases, row.minutes, row.parts, row.given])} />
      {times.slice(0, 3).map((row) => <p key={row.system}>{row.says}</p>)}
      <FailingTable name="diagnosis-minutes" heads={["Kind of job", "Jobs", "Middle", "Nine of ten under", "Worst"]} rows={times.map((row) => [row.title, row.jobs, row.middle, row.most, row.worst])} />
    </Bin>
  );
}

function OnShelf({ shelf }: { shelf: Shelf }): JSX.Element {
  const kept = shelf.rows.filter((row) => row.keep > 0);
  return (
    <Bin title="Worth keeping on the shelf" count={kept.length}>
      {kept.slice(0, 5).map((row) => <p key={row.component}>{row.says}</p>)}
      {kept.length === 0 && <p>No part is asked for often enough to be kept.</p>}
      <FailingTable name="shelf" heads={["Part", "Keep", "Fitted in two years", "Chance to run out", "Price", "In season"]} rows={shelf.rows.map((row) => [row.title, row.keep, row.fitted, row.short, row.price, row.seasonal ? "yes" : ""])} />
    </Bin>
  );
}

function Worth({ gaps, memory, onMemory }: { gaps: Overview["gaps"]; memory: Loaded<Memory>; onMemory: () => void }): JSX.Element {
  const known = memory.value;
  return (
    <Bin title="What the memory is worth">
      <p>{gaps.saved ? `A diagnosis takes ${Math.round(gaps.saved.late)} minutes where the first jobs took ${Math.round(gaps.saved.early)} (${gaps.saved.jobs} jobs compared).` : "Too few timed jobs to compare late ones with early ones."}</p>
      <Waiting of={memory} words="Asking closed cases" onRetry={onMemory} />
      {known && known.first !== null && known.third !== null && <p>Of {known.asked} closed cases asked without themselves, the first cause named was right in {percent(known.first)}, one of the first three in {percent(known.third)}.</p>}
      {!known && <Button onTap={onMemory}>How often is it right?</Button>}
      {gaps.systems.map((row) => <p key={row.system}>{row.title}: {row.complaints} complaints, {row.closed} with a confirmed cause.</p>)}
      {gaps.missing.slice(0, 5).map((row) => <a key={row.case} class="button quiet" href={`#/case/${row.case}`}>{row.title || "A case"} lacks {row.lacks.join(", ")}</a>)}
      {known && <FailingTable name="calibration" heads={["Answers", "Chance said", "Share right"]} rows={known.bins.map((row) => [row.count, row.said, row.right])} />}
      <FailingTable name="missing" heads={["Case", "Title", "Lacks"]} rows={gaps.missing.map((row) => [row.case, row.title, row.lacks.join(", ")])} />
    </Bin>
  );
}

export function FailingOffice({ overview, shelf, memory, onMemory, onRetry, onFile }: OfficeProps): JSX.Element {
  const held = overview.value;
  return (
    <div class="place">
      <Waiting of={overview} words="Adding up" onRetry={onRetry} />
      {held && <Cures cures={held.cures} />}
      {held && <Losses {...held} />}
      {shelf.value && <OnShelf shelf={shelf.value} />}
      {held && <Worth gaps={held.gaps} memory={memory} onMemory={onMemory} />}
      <Button onTap={() => onFile("/report", "month.html")}>Save the month as a page to print</Button>
    </div>
  );
}
