/** What keeps failing: models and systems that stand out, and parts that do not cure. */
import type { JSX } from "preact";
import { useContext } from "preact/hooks";

import { convert } from "../model/units";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { IntervalChart } from "../ui/chart";
import { Fold } from "../ui/fold";
import { Empty, Notice } from "../ui/notice";
import type { Name, Names } from "../model/failing-view";
import type { LocalCase } from "../model/local-case";
import type { Cell } from "../model/rows";
import type { ComponentParts, PartsReport, Recurrence, Recurrences, Trade } from "../wire";
import { CaseSlip } from "./cases";
import { At } from "./failing-at";
import { FailingFilter, type FilterProps } from "./failing-filter";
import { Kept, KeptFold } from "./failing-kept";
import { FailingTable } from "./failing-table";
import { MARKS, valueWords } from "./failing-words";
import { SourceRows } from "./part-memory";
import { Waiting, type Loaded } from "./trouble";
import { day, figure, minutes, money, named, percent } from "./words";
import { t } from "../texts";

export interface FailingProps extends Omit<FilterProps, "trade"> {
  manager: boolean;
  online: boolean;
  recurrences: Loaded<Recurrences>;
  parts: Loaded<PartsReport>;
  files: readonly LocalCase[];
  trade: Trade;
  currency: string;
  odometerUnit: string;
  now: Date;
  onRow: (key: Names) => void;
  onRetry: () => void;
}

/** Half of the failures lie between the quartiles. */
function between([low, , high]: readonly number[], unit: string): string {
  const [first, last] = [low, high].map((km) => figure(Math.round((convert(km ?? 0, "km", unit) ?? 0) / 1000)));
  return t().failing.halfBetween(first ?? "", last ?? "", unit);
}

function Numbers({ row, currency, odometerUnit }: { row: Recurrence } & Pick<FailingProps, "currency" | "odometerUnit">): JSX.Element {
  const said = [
    row.since && t().failing.sinceMonth(row.since.month, figure(row.since.times)),
    row.trend?.rising && t().failing.rises(percent(row.trend.per_period - 1)),
    row.per_visits && t().failing.perVisits(figure(row.per_visits.per_100), row.per_visits.visits),
    row.odometer_km && between(row.odometer_km, odometerUnit),
    row.first_cured && t().failing.curedAtFirst(row.first_cured.count, row.first_cured.of),
    row.median_minutes !== null && t().failing.inTheMiddle(minutes(row.median_minutes)),
    row.median_cost !== null && t().failing.inTheMiddle(money(row.median_cost, currency)),
    row.comebacks > 0 && t().failing.cameBack(row.comebacks),
    row.first && row.last && t().failing.fromTo(day(row.first), day(row.last)),
  ].filter(Boolean);
  return <p class="soft">{said.join(" · ")}</p>;
}

/** What was seen against what was to be expected; only the count where nothing could be expected. */
function Against({ row }: { row: Recurrence }): JSX.Element {
  const { expected, ratio, low, high } = row;
  if (expected === null || ratio === null || low === null || high === null) return <p><b class="number">{row.observed}</b> {t().failing.seen}</p>;
  return (
    <>
      <p><b class="number">{row.observed}</b> {t().failing.seen}, <b class="number">{figure(expected)}</b> {t().failing.expected}: <b class="number">{t().failing.times(figure(ratio))}</b>
        {` ${t().failing.honestly(figure(low), figure(high))}`}</p>
      <IntervalChart low={low} ratio={ratio} high={high} />
    </>
  );
}

function Row({ row, files, trade, currency, odometerUnit, now, onRow }: { row: Recurrence } & Pick<FailingProps, "files" | "trade" | "currency" | "odometerUnit" | "now" | "onRow">): JSX.Element {
  const own = row.cases.map((id) => files.find((each) => each.id === id)).filter((each) => each !== undefined);
  const title = row.title || Object.entries(row.key).map(([name, key]) => valueWords(trade, name as Name, key)).join(": ");
  return (
    <li class="slip">
      <p class={`verdict ${row.signal === "none" ? "" : "bad"}`}>{MARKS[row.signal]}</p>
      <h3 class="slip-title">{title}</h3>
      <Against row={row} />
      <Numbers row={row} currency={currency} odometerUnit={odometerUnit} />
      <Button kind="quiet" onTap={() => onRow(row.key)}>{t().failing.monthByMonth}</Button>
      <Fold late title={t().failing.itsCases(row.cases.length)}>
        {own.map((file) => <CaseSlip key={file.id} file={file} trade={trade} now={now} />)}
        {own.length < row.cases.length && <p>{t().failing.notInTheCopy(row.cases.length - own.length)}</p>}
      </Fold>
    </li>
  );
}

const cells = (row: Recurrence): readonly Cell[] => [row.title, row.observed, row.expected, row.ratio, row.low, row.high, row.q, MARKS[row.signal], row.since?.month ?? "", row.comebacks, row.median_minutes, row.median_cost];

function Standing(props: FailingProps): JSX.Element {
  const { recurrences, onRetry } = props;
  const report = recurrences.value;
  const rows = report?.rows ?? [];
  const loud = rows.filter((each) => each.signal !== "none");
  const quiet = rows.filter((each) => each.signal === "none");
  return (
    <Bin title={t().failing.keepsFailing} count={report ? t().failing.cases(figure(report.cases)) : undefined}>
      <FailingFilter {...props} />
      <Waiting tall of={recurrences} words={t().failing.counting} onRetry={onRetry} />
      {report && loud.length === 0 && <Empty title={t().failing.nothingStandsOut}><p>{t().failing.nothingMoreThanChance(figure(report.cases))}</p></Empty>}
      <ol class="stack">{loud.map((row, place) => <Row key={place} row={row} {...props} />)}</ol>
      {quiet.length > 0 && <KeptFold id="quiet" title={t().failing.manyAsExpected(quiet.length)}><ol class="stack">{quiet.slice(0, 30).map((row, place) => <Row key={place} row={row} {...props} />)}</ol></KeptFold>}
      {rows.length > 0 && <FailingTable of="rows" heads={["row", "seen", "expected", "times", "low", "high", "falseShare", "mark", "since", "cameBack", "minutes", "cost"]} rows={rows.map(cells)} />}
      {report?.notes.map((each) => <p class="small" key={each}>{each}</p>)}
    </Bin>
  );
}

const sources = (part: ComponentParts): readonly (readonly Cell[])[] => part.sources.map((row) => [part.title, named(row.source), row.tried, row.cured, row.partly, row.no_change, row.failed_later, row.success, row.low, row.high, row.median_price, row.expected_cost]);

const tried = (part: ComponentParts): number => part.sources.reduce((sum, row) => sum + row.tried, 0);
const byTries = (report: PartsReport | null): readonly ComponentParts[] => [...(report?.components ?? [])].sort((a, b) => tried(b) - tried(a));

/** Parts shown at first. */
const SHOWN = 12;

function Parts({ parts, onRetry }: FailingProps): JSX.Element {
  const { open, onOpen } = useContext(Kept);
  const all = open.includes("parts");
  const report = parts.value;
  const components = byTries(report);
  return (
    <Bin title={t().failing.partsThatCured} count={report?.components.length}>
      <Waiting of={parts} words={t().failing.addingUpParts} onRetry={onRetry} />
      {report && components.length === 0 && <Empty title={t().failing.noPartTriedYet}><p>{t().failing.thisFillsItself}</p></Empty>}
      {components.filter((each, at) => all || at < SHOWN || open.includes(`part.${each.component}`)).map((each) => (
        <KeptFold id={`part.${each.component}`} key={each.component} title={<span>{each.title || each.component} <span class="soft">({tried(each)})</span></span>}>
          <SourceRows component={each} currency={report?.currency ?? ""} />
        </KeptFold>
      ))}
      {report && components.length > 0 && <FailingTable of="parts" heads={["part", "source", "tried", "cured", "partly", "noChange", "failedLater", "success", "low", "high", "price", "toAWorkingCar"]} rows={report.components.flatMap(sources)} />}
      {components.length > SHOWN && !all && <button type="button" class="button" onClick={() => onOpen("parts", true)}>{t().failing.showAll(components.length)}</button>}
    </Bin>
  );
}

function rowsSay({ recurrences }: FailingProps): string | undefined {
  const rows = recurrences.value?.rows;
  const loud = rows?.filter((each) => each.signal !== "none") ?? [];
  return rows && (loud[0] ? t().failingSays.standOut(loud.length, rows.length, loud[0].title) : `${t().failing.nothingStandsOut}.`);
}

function partsSay({ parts }: FailingProps): string | undefined {
  const [first, ...others] = byTries(parts.value);
  return first && t().failingSays.tried(others.length + 1, first.title || first.component, tried(first));
}

export function FailingScreen(props: FailingProps): JSX.Element {
  return (
    <>
      <At part="rows" says={rowsSay(props)}>
        {!props.online && <Notice kind="warn" title={t().failing.noSignal}><p>{t().failing.needTheService}</p></Notice>}
        {props.manager ? <Standing {...props} /> : <Notice title={t().failing.forTheManager}><p>{t().failing.forEveryone}</p></Notice>}
      </At>
      <At part="parts" says={partsSay(props)}><Parts {...props} /></At>
    </>
  );
}
