/** Below the tag: likely causes, what it was before, judged readings, other tests, what was read as what. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { ChanceBar } from "../ui/chart";
import { Fold } from "../ui/fold";
import { Empty } from "../ui/notice";
import type { Advice, CauseChance, NextTest, Similar, Trade, Why } from "../wire";
import { Verdict } from "./verdict";
import { minutes, percent, titleOf } from "./words";

function Cause({ row }: { row: CauseChance }): JSX.Element {
  const from = row.from || (row.cases > 0 ? `${row.cases} of your cases` : "trade knowledge");
  return (
    <li class="slip">
      <div class="slip-top">
        <span class="slip-title">{row.title}</span>
        <span class="percent">{percent(row.probability)}</span>
      </div>
      <ChanceBar share={row.probability} />
      <p class="soft">From {from}</p>
    </li>
  );
}

export function Causes({ advice }: { advice: Advice }): JSX.Element {
  const shown = advice.causes.slice(0, 5);
  const rest = advice.causes.slice(5);
  return (
    <Bin title="Likely causes" id="causes" count={advice.causes.length}>
      <ol class="stack">
        {shown.map((row) => <Cause key={row.cause} row={row} />)}
        <li class="slip">
          <div class="slip-top">
            <span class="slip-title">Something not listed yet</span>
            <span class="percent">{percent(advice.unlisted)}</span>
          </div>
          <ChanceBar share={advice.unlisted} unlisted />
        </li>
      </ol>
      {rest.length > 0 && <Fold title={`${rest.length} less likely`}><ol class="stack">{rest.map((row) => <Cause key={row.cause} row={row} />)}</ol></Fold>}
    </Bin>
  );
}

export function reasonsOf(why: Why, trade: Trade): { name: string; words: string }[] {
  return [
    { name: "Same words", words: why.words.join(", ") },
    { name: "Codes", words: why.codes.join(", ") },
    { name: "Signs", words: why.symptoms.map((each) => titleOf(trade.symptoms, each)).join(", ") },
    { name: "Car", words: why.vehicle },
    { name: "Readings", words: why.readings.join(", ") },
    { name: "Tests", words: why.tests.join(", ") },
  ].filter((each) => each.words !== "");
}

function PastCase({ row, trade }: { row: Similar; trade: Trade }): JSX.Element {
  const cause = row.cause_title || titleOf(trade.causes, row.cause);
  return (
    <li>
      <a class="slip" href={`#/case/${row.case}`}>
        <div class="slip-top">
          <span class="slip-title">{cause || row.title || "Not solved"}</span>
          <span class="percent">{percent(row.chance)}</span>
        </div>
        {row.correction && <p>Done: {row.correction}</p>}
        <p class="soft">{[row.vehicle, cause && row.title].filter(Boolean).join(" · ")}</p>
        <p class="reasons">
          {reasonsOf(row.why, trade).map((each) => <span class="reason" key={each.name}><b>{each.name}:</b> {each.words}</span>)}
        </p>
      </a>
    </li>
  );
}

export function PastCases({ advice, trade, paid }: { advice: Advice; trade: Trade; paid: string }): JSX.Element {
  return (
    <Bin title="What it was before" count={advice.cases.length} id="before">
      {advice.cases.length === 0 ? (
        <Empty title="No past case like this yet"><p>The chances above rest on trade knowledge. Closing this one gives the next person a start.</p></Empty>
      ) : (
        <>
          {paid && <p class="strong">{paid}</p>}
          <p class="soft">The percent is the chance of the same cause.</p>
          <ol class="stack">{advice.cases.map((row) => <PastCase key={row.case} row={row} trade={trade} />)}</ol>
        </>
      )}
    </Bin>
  );
}

export function Readings({ advice, trade }: { advice: Advice; trade: Trade }): JSX.Element | null {
  if (advice.readings.length === 0) return null;
  return (
    <Bin title="Readings" count={advice.readings.length}>
      {advice.readings.map((row, place) => <Verdict key={`${row.quantity}-${place}`} row={row} trade={trade} />)}
    </Bin>
  );
}

export function OtherTests({ tests, chosen, onPick }: { tests: readonly NextTest[]; chosen: string | null; onPick: (test: string) => void }): JSX.Element | null {
  const others = tests.filter((each) => each.test !== chosen);
  if (others.length === 0) return null;
  return (
    <Bin title="Other tests" count={others.length}>
      {others.map((each) => (
        <button key={each.test} type="button" class="slip" onClick={() => onPick(each.test)}>
          <span class="slip-top">
            <span class="slip-title">{each.title}</span>
            <span class="number">{minutes(each.minutes)}</span>
          </span>
          <span class="soft">
            {each.saves >= 1 ? `Saves about ${minutes(each.saves)}` : "Saves little now"}
            {each.setup && ` · ${each.setup}`}
          </span>
          {!each.allowed && <span class="strong">Needs skill {each.skill}</span>}
        </button>
      ))}
    </Bin>
  );
}

export function ReadAs({ advice, trade }: { advice: Advice; trade: Trade }): JSX.Element | null {
  if (advice.read_as.length === 0 && advice.symptoms.length === 0) return null;
  return (
    <Bin title="How your words were read">
      {advice.read_as.map((each) => <p class="slip" key={each.typed}><span><b>{each.typed}</b> was read as <b>{each.read}</b></span></p>)}
      {advice.symptoms.map((each) => <p class="slip" key={each.symptom}>Heard: {each.title || titleOf(trade.symptoms, each.symptom)}</p>)}
    </Bin>
  );
}
