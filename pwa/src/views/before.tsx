/** What the shop remembers of such jobs: what was ruled out, what they came to, what they turned out to be. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { Empty } from "../ui/notice";
import type { Advice, PriceSpan, RuledOut, Similar, Trade, Why } from "../wire";
import { minutes, percent, sentence, titleOf, wholeMoney, within } from "./words";
import { t } from "../texts";

const NAMED = 3;

/** "cable, relay ruled out, 9 min": the shortest true line about what was found good before. */
export function ruledOutWords(rows: readonly RuledOut[]): string {
  const cleared = [...new Set(rows.flatMap((row) => (row.causes.length > 0 ? row.causes : [row.title])))].map(within);
  const more = cleared.length > NAMED ? t().before.andMore(cleared.length - NAMED) : "";
  const spent = rows.reduce((sum, row) => sum + (row.minutes ?? 0), 0);
  return [t().before.ruledOut(`${cleared.slice(0, NAMED).join(", ")}${more}`), spent > 0 && minutes(spent)].filter(Boolean).join(", ");
}

export function RuledOutBefore({ rows }: { rows: readonly RuledOut[] }): JSX.Element | null {
  if (rows.length === 0) return null;
  return (
    <Fold title={<span>{t().before.lastTimeOnThisModel} <span class="plain-weight">{ruledOutWords(rows)}</span></span>} id="ruled-out">
      {rows.map((row) => (
        <div class="ends" key={`${row.test} ${row.means}`}>
          <span><b>{row.title}</b>: {row.means}{row.causes.length > 0 && <span class="soft"> {t().before.clears(row.causes.map(within).join(", "))}</span>}</span>
          <span class="number">{row.times > 1 && `${row.times} ×`}{row.minutes !== null && ` ${minutes(row.minutes)}`}</span>
        </div>
      ))}
    </Fold>
  );
}

/** As it is said aloud: "The last nine such jobs came to $90 to $260, the middle one $140." */
export function priceWords(price: PriceSpan): string {
  const { cases, low, middle, high, currency } = price;
  if (cases === 1) return t().before.oneJobCameTo(wholeMoney(middle, currency));
  const said = (amount: number): string => wholeMoney(amount, currency);
  if (said(low) === said(high)) return t().before.jobsEachCameTo(cases, said(middle));
  return t().before.jobsCameTo(cases, { least: said(low), centre: said(middle), most: said(high) });
}

function PriceAloud({ price, onCopy }: { price: PriceSpan | null; onCopy: (text: string) => void }): JSX.Element | null {
  if (!price) return null;
  return (
    <div class="slip" role="group" aria-label={t().before.priceToSayAloud}>
      <p class="price">{priceWords(price)}</p>
      <div class="ends"><span class="soft small">{t().before.atTodaysRateNoPromise}</span><Button onTap={() => onCopy(priceWords(price))}>{t().before.copy}</Button></div>
    </div>
  );
}

function reasonsOf(why: Why, trade: Trade): { name: string; words: string }[] {
  return [
    { name: t().before.sameWords, words: why.words.join(", ") },
    { name: t().before.codes, words: why.codes.join(", ") },
    { name: t().before.signs, words: why.symptoms.map((each) => titleOf(trade.symptoms, each)).join(", ") },
    { name: t().before.car, words: why.vehicle },
    { name: t().before.readings, words: why.readings.join(", ") },
    { name: t().before.tests, words: why.tests.join(", ") },
  ].filter((each) => each.words !== "");
}

/** What a past case was, what was done and what it shares with the question. */
export function CaseLines({ row, trade }: { row: Similar; trade: Trade }): JSX.Element {
  const cause = row.cause_title || titleOf(trade.causes, row.cause);
  return (
    <>
      <div class="slip-top">
        <span class="slip-title">{cause || row.title || t().before.notSolved}</span>
        <span class="percent">{percent(row.chance)}</span>
      </div>
      {row.correction && <p>{t().before.done(row.correction)}</p>}
      <p class="soft">{[row.vehicle, cause && row.title].filter(Boolean).map(sentence).join(" · ")}</p>
      <p class="reasons">
        {reasonsOf(row.why, trade).map((each) => <span class="reason" key={each.name}><b>{each.name}:</b> {each.words}</span>)}
      </p>
    </>
  );
}

const PastCase = ({ row, trade }: { row: Similar; trade: Trade }): JSX.Element => (
  <a class="slip" href={`#/case/${row.case}`}><CaseLines row={row} trade={trade} /></a>
);

/** The cases by what they turned out to be, each kind where its first stands; a case not solved stands alone. */
function byCause(cases: readonly Similar[]): readonly Similar[][] {
  const kinds = new Map<string, Similar[]>();
  for (const row of cases) {
    const kind = row.cause ?? row.case;
    kinds.set(kind, [...(kinds.get(kind) ?? []), row]);
  }
  return [...kinds.values()];
}

function OfOneCause({ cases: [first, ...others], trade }: { cases: readonly Similar[]; trade: Trade }): JSX.Element {
  return (
    <li>
      {first && <PastCase row={first} trade={trade} />}
      {others.length > 0 && (
        <Fold title={t().before.moreOfIt(others.length)} late>
          {others.map((row) => <PastCase key={row.case} row={row} trade={trade} />)}
        </Fold>
      )}
    </li>
  );
}

const FIRST = 4;

function Kinds({ kinds, trade }: { kinds: readonly Similar[][]; trade: Trade }): JSX.Element {
  return <ol class="stack">{kinds.map((cases) => <OfOneCause key={cases[0]?.case} cases={cases} trade={trade} />)}</ol>;
}

export function PastCases({ advice, trade, onCopy }: { advice: Advice; trade: Trade; onCopy: (text: string) => void }): JSX.Element {
  const kinds = byCause(advice.cases);
  const rest = kinds.slice(FIRST);
  return (
    <Bin title={t().before.whatItWasBefore} count={advice.cases.length} id="before">
      <PriceAloud price={advice.price} onCopy={onCopy} />
      {kinds.length === 0 ? (
        <Empty title={t().before.noPastCaseLikeThis}><p>{t().before.theChancesRestOnTrade}</p></Empty>
      ) : (
        <>
          <p class="soft">{t().before.thePercentIsTheChance}</p>
          <Kinds kinds={kinds.slice(0, FIRST)} trade={trade} />
          {rest.length > 0 && <Fold title={t().before.more(rest.flat().length)}><Kinds kinds={rest} trade={trade} /></Fold>}
        </>
      )}
    </Bin>
  );
}
