/** Money and minutes, cures, the shelf, and what the memory is worth. Nobody is ranked. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { CureRow, Memory, Overview, Shelf } from "../wire";
import { At } from "./failing-at";
import { FailingTable } from "./failing-table";
import { Waiting, type Loaded } from "./trouble";
import { money } from "./words";
import { t } from "../texts";

export interface OfficeProps {
  overview: Loaded<Overview>;
  shelf: Loaded<Shelf>;
  memory: Loaded<Memory>;
  onMemory: () => void;
  onAsk: (id: string) => void;
  onRetry: () => void;
  /** The month of the page to print, as 2026-03; empty for this one. */
  month: string;
  onMonth: (month: string) => void;
  onPage: () => void;
}

const percent = (share: number): string => `${Math.round(share * 100)}\u00a0%`;
const cureRow = (row: CureRow): readonly (string | number)[] => [row.title || row.name, row.closed, row.came_back, row.cured, row.low, row.high];

function Cures({ cures }: Pick<Overview, "cures">): JSX.Element {
  const last = cures.quarters[cures.quarters.length - 1];
  return (
    <Bin title={t().failingOffice.curedAtFirst} count={last ? percent(last.cured) : undefined}>
      <p>{last ? t().failingOffice.inQuarter(last.name, { cured: percent(last.cured), closed: last.closed, low: percent(last.low), high: percent(last.high) }) : t().failingOffice.noneThirtyDaysOld}</p>
      <FailingTable of="cures" heads={["quarterSystemKind", "closed", "cameBack", "cured", "low", "high"]} rows={[...cures.quarters, ...cures.systems, ...cures.kinds].map(cureRow)} />
    </Bin>
  );
}

function givenAway({ losses, currency }: Pick<Overview, "losses" | "currency">): string {
  const [most] = losses;
  return most ? t().failingOffice.mostGivenAway(most.title, money(most.given, currency)) : t().failingOffice.nothingGivenAway;
}

function Losses({ losses, times, currency }: Overview): JSX.Element {
  const given = losses.reduce((sum, row) => sum + row.given, 0);
  return (
    <Bin title={t().failingOffice.moneyAndMinutes} count={money(given, currency)}>
      <p>{givenAway({ losses, currency })}</p>
      <FailingTable of="givenAway" heads={["cause", "cases", "notBilled", "didNotCure", "worth"]} rows={losses.map((row) => [row.title, row.cases, row.minutes, row.parts, row.given])} />
      {times.slice(0, 3).map((row) => <p key={row.system}>{row.says}</p>)}
      <FailingTable of="diagnosisMinutes" heads={["kindOfJob", "jobs", "middle", "nineOfTenUnder", "worst"]} rows={times.map((row) => [row.title, row.jobs, row.middle, row.most, row.worst])} />
    </Bin>
  );
}

function OnShelf({ shelf }: { shelf: Shelf }): JSX.Element {
  const kept = shelf.rows.filter((row) => row.keep > 0);
  return (
    <Bin title={t().failingOffice.worthKeeping} count={kept.length}>
      {kept.slice(0, 5).map((row) => <p key={row.component}>{row.says}</p>)}
      {kept.length === 0 && <p>{t().failingOffice.noPartOften}</p>}
      <FailingTable of="shelf" heads={["part", "keep", "fittedInTwoYears", "chanceToRunOut", "price", "inSeason"]} rows={shelf.rows.map((row) => [row.title, row.keep, row.fitted, row.short, row.price, row.seasonal ? t().failingOffice.yes : ""])} />
    </Bin>
  );
}

function Worth({ gaps, memory, onMemory, onAsk }: { gaps: Overview["gaps"] } & Pick<OfficeProps, "memory" | "onMemory" | "onAsk">): JSX.Element {
  const known = memory.value;
  return (
    <Bin title={t().failingOffice.memoryIsWorth}>
      <p>{gaps.saved ? t().failingOffice.diagnosisTakes(Math.round(gaps.saved.late), Math.round(gaps.saved.early), gaps.saved.jobs) : t().failingOffice.tooFewTimed}</p>
      <Waiting of={memory} words={t().failingOffice.askingClosed} onRetry={onMemory} />
      {known && known.first !== null && known.third !== null && <p>{t().failingOffice.rightIn(known.asked, percent(known.first), percent(known.third))}</p>}
      {!known && <Button onTap={onMemory}>{t().failingOffice.howOftenRight}</Button>}
      {gaps.systems.map((row) => <p key={row.system}>{t().failingOffice.ofSystem(row.title, row.complaints, row.closed)}</p>)}
      {gaps.missing.slice(0, 5).map((row) => (
        <p key={row.case}>
          <a class="button quiet" href={`#/case/${row.case}`}>{t().failingOffice.lacks(row.title || t().failingOffice.aCase, row.lacks.join(", "))}</a>
          {row.asked ? <span class="soft"> {t().care.askedAlready}</span> : row.author && <Button onTap={() => onAsk(row.case)}>{t().care.askAuthor(row.author)}</Button>}
        </p>
      ))}
      {known && <FailingTable of="calibration" heads={["answers", "chanceSaid", "shareRight"]} rows={known.bins.map((row) => [row.count, row.said, row.right])} />}
      <FailingTable of="missing" heads={["case", "title", "lacks"]} rows={gaps.missing.map((row) => [row.case, row.title, row.lacks.join(", ")])} />
    </Bin>
  );
}

export function FailingOffice({ overview, shelf, memory, onMemory, onAsk, onRetry, month, onMonth, onPage }: OfficeProps): JSX.Element {
  const held = overview.value;
  return (
    <At part="office" says={held ? givenAway(held) : undefined}>
      <Waiting of={overview} words={t().failingOffice.addingUp} onRetry={onRetry} />
      {held && <Cures cures={held.cures} />}
      {held && <Losses {...held} />}
      {shelf.value && <OnShelf shelf={shelf.value} />}
      {held && <Worth gaps={held.gaps} memory={memory} onMemory={onMemory} onAsk={onAsk} />}
      <label class="field"><span class="legend">{t().care.month}</span>
        <input class="entry" type="month" value={month} max={new Date().toISOString().slice(0, 7)} onChange={(event) => onMonth(event.currentTarget.value)} /></label>
      <Button onTap={onPage}>{t().failingOffice.saveTheMonth}</Button>
    </At>
  );
}
