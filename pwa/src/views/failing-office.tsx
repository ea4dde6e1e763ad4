/** Money and minutes, cures, the shelf, and what the memory is worth. Nobody is ranked. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { CureRow, Memory, Overview, Shelf } from "../wire";
import { FailingTable } from "./failing-table";
import { Waiting, type Loaded } from "./trouble";
import { money } from "./words";
import { t } from "../texts";

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
    <Bin title={t().failingOffice.curedAtFirst} count={last ? percent(last.cured) : undefined}>
      <p>{last ? t().failingOffice.inQuarter(last.name, { cured: percent(last.cured), closed: last.closed, low: percent(last.low), high: percent(last.high) }) : t().failingOffice.noneThirtyDaysOld}</p>
      <FailingTable name={t().tables.cures} heads={[t().heads.quarterSystemKind, t().heads.closed, t().heads.cameBack, t().heads.cured, t().heads.low, t().heads.high]} rows={[...cures.quarters, ...cures.systems, ...cures.kinds].map(cureRow)} />
    </Bin>
  );
}

function Losses({ losses, times, currency }: Overview): JSX.Element {
  const given = losses.reduce((sum, row) => sum + row.given, 0);
  return (
    <Bin title={t().failingOffice.moneyAndMinutes} count={money(given, currency)}>
      <p>{losses[0] ? t().failingOffice.mostGivenAway(losses[0].title, money(losses[0].given, currency)) : t().failingOffice.nothingGivenAway}</p>
      <FailingTable name={t().tables.givenAway} heads={[t().heads.cause, t().heads.cases, t().heads.notBilled, t().heads.didNotCure, t().heads.worth]} rows={losses.map((row) => [row.title, row.cases, row.minutes, row.parts, row.given])} />
      {times.slice(0, 3).map((row) => <p key={row.system}>{row.says}</p>)}
      <FailingTable name={t().tables.diagnosisMinutes} heads={[t().heads.kindOfJob, t().heads.jobs, t().heads.middle, t().heads.nineOfTenUnder, t().heads.worst]} rows={times.map((row) => [row.title, row.jobs, row.middle, row.most, row.worst])} />
    </Bin>
  );
}

function OnShelf({ shelf }: { shelf: Shelf }): JSX.Element {
  const kept = shelf.rows.filter((row) => row.keep > 0);
  return (
    <Bin title={t().failingOffice.worthKeeping} count={kept.length}>
      {kept.slice(0, 5).map((row) => <p key={row.component}>{row.says}</p>)}
      {kept.length === 0 && <p>{t().failingOffice.noPartOften}</p>}
      <FailingTable name={t().tables.shelf} heads={[t().heads.part, t().heads.keep, t().heads.fittedInTwoYears, t().heads.chanceToRunOut, t().heads.price, t().heads.inSeason]} rows={shelf.rows.map((row) => [row.title, row.keep, row.fitted, row.short, row.price, row.seasonal ? t().failingOffice.yes : ""])} />
    </Bin>
  );
}

function Worth({ gaps, memory, onMemory }: { gaps: Overview["gaps"]; memory: Loaded<Memory>; onMemory: () => void }): JSX.Element {
  const known = memory.value;
  return (
    <Bin title={t().failingOffice.memoryIsWorth}>
      <p>{gaps.saved ? t().failingOffice.diagnosisTakes(Math.round(gaps.saved.late), Math.round(gaps.saved.early), gaps.saved.jobs) : t().failingOffice.tooFewTimed}</p>
      <Waiting of={memory} words={t().failingOffice.askingClosed} onRetry={onMemory} />
      {known && known.first !== null && known.third !== null && <p>{t().failingOffice.rightIn(known.asked, percent(known.first), percent(known.third))}</p>}
      {!known && <Button onTap={onMemory}>{t().failingOffice.howOftenRight}</Button>}
      {gaps.systems.map((row) => <p key={row.system}>{t().failingOffice.ofSystem(row.title, row.complaints, row.closed)}</p>)}
      {gaps.missing.slice(0, 5).map((row) => <a key={row.case} class="button quiet" href={`#/case/${row.case}`}>{t().failingOffice.lacks(row.title || t().failingOffice.aCase, row.lacks.join(", "))}</a>)}
      {known && <FailingTable name={t().tables.calibration} heads={[t().heads.answers, t().heads.chanceSaid, t().heads.shareRight]} rows={known.bins.map((row) => [row.count, row.said, row.right])} />}
      <FailingTable name={t().tables.missing} heads={[t().heads.case, t().heads.title, t().heads.lacks]} rows={gaps.missing.map((row) => [row.case, row.title, row.lacks.join(", ")])} />
    </Bin>
  );
}

export function FailingOffice({ overview, shelf, memory, onMemory, onRetry, onFile }: OfficeProps): JSX.Element {
  const held = overview.value;
  return (
    <div class="place">
      <Waiting of={overview} words={t().failingOffice.addingUp} onRetry={onRetry} />
      {held && <Cures cures={held.cures} />}
      {held && <Losses {...held} />}
      {shelf.value && <OnShelf shelf={shelf.value} />}
      {held && <Worth gaps={held.gaps} memory={memory} onMemory={onMemory} />}
      <Button onTap={() => onFile("/report", "month.html")}>{t().failingOffice.saveTheMonth}</Button>
    </div>
  );
}
