/** A judged reading: the verdict in a word and a shape, what was expected, and on whose word. */
import type { JSX } from "preact";

import { Shape, type ShapeName } from "../ui/shape";
import type { Band, Judged, Trade } from "../wire";
import { askedTitle } from "./condition-words";
import { figure, idWords, measured, sentence, symbolOf, titleOf } from "./words";

export function bandWords(band: Band): string {
  const unit = symbolOf(band.unit);
  if (band.low !== null && band.high !== null) return `${figure(band.low)} to ${figure(band.high)} ${unit}`;
  if (band.low !== null) return `at least ${figure(band.low)} ${unit}`;
  return band.high !== null ? `at most ${figure(band.high)} ${unit}` : "no limit known";
}

function shapeOf(row: Judged): ShapeName {
  if (row.verdict === "implausible") return "alert";
  if (row.good === true) return "tick";
  if (row.verdict.startsWith("low")) return "down";
  if (row.verdict.startsWith("high")) return "up";
  return row.good === false ? "cross" : "query";
}

const SAID: Readonly<Record<string, string>> = { implausible: "Check this number", unknown: "Cannot say yet", ok: "In range" };

export const verdictWords = (verdict: string): string => SAID[verdict] ?? sentence(verdict.replaceAll("_", " "));

/** The verdict in one line, beside the number being typed. */
export function VerdictLine({ row }: { row: Judged }): JSX.Element {
  const tone = row.good === null ? "warn" : row.good ? "good" : "bad";
  return (
    <p class={`verdict ${tone}`} role="status">
      <Shape name={shapeOf(row)} />
      <span>{verdictWords(row.verdict)}<span class="verdict-band"> {row.expected ? `expected ${bandWords(row.expected)}` : row.why}</span></span>
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
      {row.expected && <p>Expected {bandWords(row.expected)}{row.point && `, at ${row.point}`}</p>}
      {row.why && !(brief && needs.length > 0) && <p>{row.why}</p>}
      {needs.length > 0 && <p class="strong">Needs: {needs.join(", ")}</p>}
      {row.source && <p class="soft small">Source: {row.source}</p>}
    </div>
  );
}
