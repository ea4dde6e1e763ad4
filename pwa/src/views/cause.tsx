/** Likely causes, each with what speaks for it, what moved it, and a way to say it is wrong. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { plainNumber } from "../model/format";
import { Button } from "../ui/button";
import { ChanceBar } from "../ui/chart";
import { Fold } from "../ui/fold";
import { Shape } from "../ui/shape";
import type { Advice, CauseChance } from "../wire";
import { percent } from "./words";
import { t } from "../texts";

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
  const told = size < 10 ? plainNumber(Math.round(size * 10) / 10) : size > 100 ? t().cause.over100 : plainNumber(Math.round(size));
  if (size < UNMOVED) return t().cause.hardlyMoved;
  if (size < CLEAR) return factor > 1 ? t().cause.aLittleUp : t().cause.aLittleDown;
  return factor > 1 ? t().cause.upTimes(told) : t().cause.downTo1In(told);
}

/** What a chance rests on. */
export const fromWords = ({ cases }: CauseChance): string => (cases > 0 ? t().cause.ofYourCases(cases) : t().cause.tradeKnowledge);

function Moves({ row }: { row: CauseChance }): JSX.Element | null {
  const told = row.moved.filter((each) => Math.abs(Math.log(each.factor)) >= Math.log(UNMOVED)).slice(0, MOVES_SHOWN);
  if (told.length === 0) return <p class="soft">{t().cause.nothingFoundOnThisCar}</p>;
  return (
    <ul class="stack" aria-label={t().cause.whatMovedIt}>
      {told.map((each) => (
        <li class="dropped" key={each.by}><Shape name={each.factor >= 1 ? "up" : "down"} /><span>{each.by}: <b>{factorWords(each.factor)}</b></span></li>
      ))}
    </ul>
  );
}

function Why({ row, props }: { row: CauseChance; props: CausesProps }): JSX.Element {
  const shown = row.from_cases.slice(0, CASES_SHOWN);
  return (
    <Fold title={t().cause.why}>
      <Moves row={row} />
      {shown.length > 0 && <p class="strong">{t().cause.yourCasesThatSpeakFor}</p>}
      {shown.map((id) => <a class="carbon" key={id} href={`#/case/${id}`}><span>{props.caseTitle(id)}</span><span class="strong">{t().cause.open}</span></a>)}
      {row.from_cases.length > CASES_SHOWN && <p class="soft">{t().cause.andMore(row.from_cases.length - CASES_SHOWN)}</p>}
      <Button onTap={() => props.onRepair(row.cause)}>{t().cause.repairedWithoutANewPart}</Button>
    </Fold>
  );
}

function Cause({ row, props }: { row: CauseChance; props: CausesProps }): JSX.Element {
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{row.title}</span>
        <span class="percent">{percent(row.probability)}</span>
      </div>
      <ChanceBar share={row.probability} />
      <p class="soft">{t().cause.from(fromWords(row))}</p>
      <div class="fold-row">
        <Why row={row} props={props} />
        <Button onTap={() => props.onWrong(row.cause)} label={t().cause.wrongBecause(row.title)}>{t().cause.wrong}</Button>
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
    <Bin title={t().cause.likelyCauses} id="causes" count={advice.causes.length}>
      <ol class="stack">
        {shown.map((row) => <Cause key={row.cause} row={row} props={props} />)}
        <li class="slip">
          <div class="slip-top">
            <span class="slip-title">{t().cause.somethingNotListedYet}</span>
            <span class="percent">{percent(advice.unlisted)}</span>
          </div>
          <ChanceBar share={advice.unlisted} unlisted />
          <Button onTap={onOwnCause}>{t().cause.addACauseOfOur}</Button>
        </li>
      </ol>
      {rest.length > 0 && <Fold title={t().cause.lessLikely(rest.length)}><ol class="stack">{rest.map((row) => <Cause key={row.cause} row={row} props={props} />)}</ol></Fold>}
    </Bin>
  );
}
