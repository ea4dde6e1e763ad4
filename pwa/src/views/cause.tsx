/** Likely causes, each with what speaks for it, what moved it, and a way to say it is wrong. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { ChanceBar } from "../ui/chart";
import { Fold } from "../ui/fold";
import { Shape } from "../ui/shape";
import type { Advice, CauseChance } from "../wire";
import { percent } from "./words";

export interface CauseActs {
  onWrong: (cause: string) => void;
  /** Repaired without a new part, for this cause. */
  onRepair: (cause: string) => void;
  onOwnCause: () => void;
}

export interface CausesProps extends CauseActs {
  advice: Advice;
  /** The headline of one of the shop's cases. */
  caseTitle: (id: string) => string;
}

const UNMOVED = 1.1;
const CLEAR = 2;
const CASES_SHOWN = 5;
const MOVES_SHOWN = 5;

/** "up 3 times", "down to 1 in 10": how far one piece of evidence moved a cause. */
export function factorWords(factor: number): string {
  const size = factor >= 1 ? factor : 1 / factor;
  const told = size < 10 ? String(Math.round(size * 10) / 10) : size > 100 ? "over 100" : String(Math.round(size));
  if (size < UNMOVED) return "hardly moved";
  if (size < CLEAR) return factor > 1 ? "a little up" : "a little down";
  return factor > 1 ? `up ${told} times` : `down to 1 in ${told}`;
}

function Moves({ row }: { row: CauseChance }): JSX.Element | null {
  const told = row.moved.filter((each) => Math.abs(Math.log(each.factor)) >= Math.log(UNMOVED)).slice(0, MOVES_SHOWN);
  if (told.length === 0) return <p class="soft">Nothing found on this car has moved it yet.</p>;
  return (
    <ul class="stack" aria-label="What moved it">
      {told.map((each) => (
        <li class="dropped" key={each.by}><Shape name={each.factor >= 1 ? "up" : "down"} /><span>{each.by}: <b>{factorWords(each.factor)}</b></span></li>
      ))}
    </ul>
  );
}

function Why({ row, props }: { row: CauseChance; props: CausesProps }): JSX.Element {
  const shown = row.from_cases.slice(0, CASES_SHOWN);
  return (
    <Fold title="Why">
      <Moves row={row} />
      {shown.length > 0 && <p class="strong">Your cases that speak for it</p>}
      {shown.map((id) => <a class="carbon" key={id} href={`#/case/${id}`}><span>{props.caseTitle(id)}</span><span class="strong">Open</span></a>)}
      {row.from_cases.length > CASES_SHOWN && <p class="soft">and {row.from_cases.length - CASES_SHOWN} more</p>}
      <Button onTap={() => props.onRepair(row.cause)}>Repaired without a new part</Button>
    </Fold>
  );
}

function Cause({ row, props }: { row: CauseChance; props: CausesProps }): JSX.Element {
  const from = row.from || (row.cases > 0 ? `${row.cases} of your cases` : "trade knowledge");
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{row.title}</span>
        <span class="percent">{percent(row.probability)}</span>
      </div>
      <ChanceBar share={row.probability} />
      <p class="soft">From {from}</p>
      <div class="fold-row">
        <Why row={row} props={props} />
        <Button onTap={() => props.onWrong(row.cause)} label={`Wrong… because: ${row.title}`}>Wrong…</Button>
      </div>
    </li>
  );
}

const FIRST = 5;

export function Causes(props: CausesProps): JSX.Element {
  const { advice, onOwnCause } = props;
  const shown = advice.causes.slice(0, FIRST);
  const rest = advice.causes.slice(FIRST);
  return (
    <Bin title="Likely causes" id="causes" count={advice.causes.length}>
      <ol class="stack">
        {shown.map((row) => <Cause key={row.cause} row={row} props={props} />)}
        <li class="slip">
          <div class="slip-top">
            <span class="slip-title">Something not listed yet</span>
            <span class="percent">{percent(advice.unlisted)}</span>
          </div>
          <ChanceBar share={advice.unlisted} unlisted />
          <Button onTap={onOwnCause}>Add a cause of our own</Button>
        </li>
      </ol>
      {rest.length > 0 && <Fold title={`${rest.length} less likely`}><ol class="stack">{rest.map((row) => <Cause key={row.cause} row={row} props={props} />)}</ol></Fold>}
    </Bin>
  );
}
