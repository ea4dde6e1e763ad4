/** What the shop remembers of such jobs: what was ruled out, what they came to, what they turned out to be. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { Empty } from "../ui/notice";
import type { Advice, PriceSpan, RuledOut, Similar, Trade, Why } from "../wire";
import { minutes, percent, sentence, titleOf, wholeMoney, within } from "./words";

const NAMED = 3;

/** "cable, relay ruled out, 9 min": the shortest true line about what was found good before. */
export function ruledOutWords(rows: readonly RuledOut[]): string {
  const cleared = [...new Set(rows.flatMap((row) => (row.causes.length > 0 ? row.causes : [row.title])))].map(within);
  const more = cleared.length > NAMED ? ` and ${cleared.length - NAMED} more` : "";
  const spent = rows.reduce((sum, row) => sum + (row.minutes ?? 0), 0);
  return `${cleared.slice(0, NAMED).join(", ")}${more} ruled out${spent > 0 ? `, ${minutes(spent)}` : ""}`;
}

export function RuledOutBefore({ rows }: { rows: readonly RuledOut[] }): JSX.Element | null {
  if (rows.length === 0) return null;
  return (
    <Fold title={<span>Last time on this model: <span class="plain-weight">{ruledOutWords(rows)}</span></span>} id="ruled-out">
      {rows.map((row) => (
        <div class="ends" key={`${row.test} ${row.means}`}>
          <span><b>{row.title}</b>: {row.means}{row.causes.length > 0 && <span class="soft"> (clears {row.causes.map(within).join(", ")})</span>}</span>
          <span class="number">{row.times > 1 && `${row.times} ×`}{row.minutes !== null && ` ${minutes(row.minutes)}`}</span>
        </div>
      ))}
    </Fold>
  );
}

const COUNTS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** As it is said aloud: "The last nine such jobs came to $90 to $260, the middle one $140." */
export function priceWords(price: PriceSpan): string {
  const { cases, low, middle, high, currency } = price;
  const many = cases === 1 ? "The last such job" : `The last ${COUNTS[cases] ?? cases} such jobs`;
  if (cases === 1) return `${many} came to ${wholeMoney(middle, currency)}.`;
  const [least, centre, most] = [low, middle, high].map((each) => wholeMoney(each, currency));
  return `${many} came to ${least} to ${most}, the middle one ${centre}.`;
}

export function PriceAloud({ price, onCopy }: { price: PriceSpan | null; onCopy: (text: string) => void }): JSX.Element | null {
  if (!price) return null;
  return (
    <div class="slip" role="group" aria-label="Price to say aloud">
      <p class="price">{priceWords(price)}</p>
      <div class="ends"><span class="soft small">At today's rate. No promise.</span><Button onTap={() => onCopy(priceWords(price))}>Copy</Button></div>
    </div>
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
        <p class="soft">{[row.vehicle, cause && row.title].filter(Boolean).map(sentence).join(" · ")}</p>
        <p class="reasons">
          {reasonsOf(row.why, trade).map((each) => <span class="reason" key={each.name}><b>{each.name}:</b> {each.words}</span>)}
        </p>
      </a>
    </li>
  );
}

const FIRST = 4;

export function PastCases({ advice, trade, onCopy }: { advice: Advice; trade: Trade; onCopy: (text: string) => void }): JSX.Element {
  const rest = advice.cases.slice(FIRST);
  return (
    <Bin title="What it was before" count={advice.cases.length} id="before">
      <PriceAloud price={advice.price} onCopy={onCopy} />
      {advice.cases.length === 0 ? (
        <Empty title="No past case like this yet"><p>The chances rest on trade knowledge. Closing this one gives the next person a start.</p></Empty>
      ) : (
        <>
          <p class="soft">The percent is the chance of the same cause.</p>
          <ol class="stack">{advice.cases.slice(0, FIRST).map((row) => <PastCase key={row.case} row={row} trade={trade} />)}</ol>
          {rest.length > 0 && <Fold title={`${rest.length} more`}><ol class="stack">{rest.map((row) => <PastCase key={row.case} row={row} trade={trade} />)}</ol></Fold>}
        </>
      )}
    </Bin>
  );
}
