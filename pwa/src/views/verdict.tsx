/** A judged reading: the verdict in a word and a shape, what was expected, and on whose word. */
import type { JSX } from "preact";

import { Shape, type ShapeName } from "../ui/shape";
import type { Band, Judged, Trade } from "../wire";
import { askedTitle } from "./condition-words";
import { figure, idWords, measured, named, unitShort, titleOf } from "./words";
import { t } from "../texts";

export function bandWords(band: Band): string {
  const unit = unitShort(band.unit);
  if (band.low !== null && band.high !== null) return t().verdict.to(figure(band.low), figure(band.high), unit);
  if (band.low !== null) return t().verdict.atLeast(figure(band.low), unit);
  return band.high !== null ? t().verdict.atMost(figure(band.high), unit) : t().verdict.noLimitKnown;
}

function shapeOf(row: Judged): ShapeName {
  if (row.verdict === "implausible") return "alert";
  if (row.good === true) return "tick";
  if (row.verdict.startsWith("low")) return "down";
  if (row.verdict.startsWith("high")) return "up";
  return row.good === false ? "cross" : "query";
}

const SAID: Readonly<Record<string, string>> = { get implausible() { return t().verdict.checkThisNumber; }, get unknown() { return t().verdict.cannotSayYet; }, get ok() { return t().verdict.inRange; } };

const verdictWords = (verdict: string): string => SAID[verdict] ?? named(verdict);

/** The verdict in one line, beside the number being typed. */
export function VerdictLine({ row }: { row: Judged }): JSX.Element {
  const tone = row.good === null ? "warn" : row.good ? "good" : "bad";
  return (
    <p class={`verdict ${tone}`} role="status">
      <Shape name={shapeOf(row)} />
      <span>{verdictWords(row.verdict)}<span class="verdict-band"> {row.expected ? t().verdict.expected(bandWords(row.expected)) : row.why}</span></span>
    </p>
  );
}

export function Verdict({ row, trade, brief }: { row: Judged; trade: Trade; brief?: boolean }): JSX.Element {
  const tone = row.good === null ? "warn" : row.good ? "good" : "bad";
  const needs = row.needs.map((each) => trade.conditions.find((one) => one.id === each)).map((each) => (each ? askedTitle(each) : ""));
  return (
    <div class="slip">
      <p class={`verdict ${tone}`}><Shape name={shapeOf(row)} />{verdictWords(row.verdict)}</p>
      {!brief && <p class="slip-title">
        {titleOf(trade.quantities, row.quantity) || idWords(row.quantity)}
        {row.value !== null && <>: <span class="number">{measured(row.value, row.unit)}</span></>}
      </p>}
      {row.expected && <p>{t().verdict.expected2(bandWords(row.expected))}{row.point && t().verdict.at(row.point)}</p>}
      {row.why && !(brief && needs.length > 0) && <p>{row.why}</p>}
      {needs.length > 0 && <p class="strong">{t().verdict.needs(needs.join(", "))}</p>}
      {row.source && <p class="soft small">{t().verdict.source(row.source)}</p>}
    </div>
  );
}
