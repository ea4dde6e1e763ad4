/** What keeps failing: models and systems that stand out, and parts that do not cure. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { IntervalChart } from "../ui/chart";
import { Fold } from "../ui/fold";
import { PickOne } from "../ui/chips";
import { Empty, Notice } from "../ui/notice";
import type { LocalCase } from "../model/local-case";
import type { PartsReport, Recurrence, Recurrences, Trade } from "../wire";
import { CaseSlip } from "./cases";
import { SourceRows } from "./part-memory";
import { Waiting, type Loaded } from "./trouble";
import { day, figure, minutes, money, titleOf } from "./words";

export interface FailingProps {
  manager: boolean;
  online: boolean;
  recurrences: Loaded<Recurrences>;
  parts: Loaded<PartsReport>;
  by: string;
  files: readonly LocalCase[];
  trade: Trade;
  currency: string;
  now: Date;
  onBy: (by: string) => void;
  onRetry: () => void;
}

const SIGNALS: Readonly<Record<Recurrence["signal"], string>> = { strong: "Stands out strongly", signal: "Stands out", none: "As expected" };

export const BY = [
  { value: "model,system", label: "Model and system" },
  { value: "model,component", label: "Model and part" },
  { value: "cause", label: "Cause" },
];

function Numbers({ row, currency }: { row: Recurrence; currency: string }): JSX.Element {
  const said = [
    row.median_minutes !== null && `${minutes(row.median_minutes)} in the middle`,
    row.median_cost !== null && `${money(row.median_cost, currency)} in the middle`,
    row.comebacks > 0 && `${row.comebacks} came back`,
    row.first && row.last && `${day(row.first)} to ${day(row.last)}`,
  ].filter(Boolean);
  return <p class="soft">{said.join(" · ")}</p>;
}

/** What was seen against what was to be expected; only the count where nothing could be expected. */
function Against({ row }: { row: Recurrence }): JSX.Element {
  const { expected, ratio, low, high } = row;
  if (expected === null || ratio === null || low === null || high === null) return <p><b class="number">{row.observed}</b> seen</p>;
  return (
    <>
      <p><b class="number">{row.observed}</b> seen, <b class="number">{figure(expected)}</b> expected: <b class="number">{figure(ratio)} times</b>
        {` (honestly ${figure(low)} to ${figure(high)})`}</p>
      <IntervalChart low={low} ratio={ratio} high={high} />
    </>
  );
}

function Row({ row, files, trade, currency, now }: { row: Recurrence } & Pick<FailingProps, "files" | "trade" | "currency" | "now">): JSX.Element {
  const own = row.cases.map((id) => files.find((each) => each.id === id)).filter((each) => each !== undefined);
  const title = row.title || Object.entries(row.key).map(([name, key]) => (name === "system" ? titleOf(trade.systems, key) : key)).join(": ");
  return (
    <li class="slip">
      <p class={`verdict ${row.signal === "none" ? "" : "bad"}`}>{SIGNALS[row.signal]}</p>
      <h3 class="slip-title">{title}</h3>
      <Against row={row} />
      <Numbers row={row} currency={currency} />
      <Fold title={`Its ${row.cases.length} cases`}>
        {own.map((file) => <CaseSlip key={file.id} file={file} trade={trade} now={now} />)}
        {own.length < row.cases.length && <p>{row.cases.length - own.length} are not in this phone's copy yet.</p>}
      </Fold>
    </li>
  );
}

function Standing(props: FailingProps): JSX.Element {
  const { recurrences, by, onBy, onRetry } = props;
  const report = recurrences.value;
  const rows = report?.rows ?? [];
  const loud = rows.filter((each) => each.signal !== "none");
  const quiet = rows.filter((each) => each.signal === "none");
  return (
    <Bin title="Keeps failing" count={report ? `${report.cases} cases` : undefined}>
      <PickOne label="Counted by" shown={false} value={by} choices={BY} onPick={onBy} />
      <Waiting of={recurrences} words="Counting" onRetry={onRetry} />
      {report && loud.length === 0 && <Empty title="Nothing stands out"><p>With {report.cases} cases nothing fails more often than chance would have it.</p></Empty>}
      <ol class="stack">{loud.map((row, place) => <Row key={place} row={row} {...props} />)}</ol>
      {quiet.length > 0 && <Fold title={`${quiet.length} as expected`}><ol class="stack">{quiet.slice(0, 30).map((row, place) => <Row key={place} row={row} {...props} />)}</ol></Fold>}
      {report?.notes.map((each) => <p class="small" key={each}>{each}</p>)}
    </Bin>
  );
}

function Parts({ parts, onRetry }: FailingProps): JSX.Element {
  const [find, setFind] = useState("");
  const report = parts.value;
  const tried = (each: PartsReport["components"][number]): number => each.sources.reduce((sum, row) => sum + row.tried, 0);
  const components = [...(report?.components ?? [])].sort((a, b) => tried(b) - tried(a));
  return (
    <Bin title="Parts that cured, and did not" count={report?.components.length}>
      <Waiting of={parts} words="Adding up parts" onRetry={onRetry} />
      {report && components.length === 0 && <Empty title="No part tried yet"><p>Write down parts and what they did; this fills itself.</p></Empty>}
      {components.slice(0, find === "" ? 12 : components.length).map((each) => (
        <Fold key={each.component} title={<span>{each.title || each.component} <span class="soft">({tried(each)})</span></span>}>
          <SourceRows component={each} currency={report?.currency ?? ""} />
        </Fold>
      ))}
      {components.length > 12 && find === "" && <button type="button" class="button" onClick={() => setFind("all")}>Show all {components.length}</button>}
    </Bin>
  );
}

export function FailingScreen(props: FailingProps): JSX.Element {
  return (
    <div class="place">
      {!props.online && <Notice kind="warn" title="No signal"><p>Counts over all cases need the service. What was fetched before is shown, if any.</p></Notice>}
      {props.manager ? <Standing {...props} /> : <Notice title="Counts by model are for the manager"><p>How parts did is for everyone:</p></Notice>}
      <Parts {...props} />
    </div>
  );
}
