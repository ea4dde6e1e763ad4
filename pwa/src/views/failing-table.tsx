/** The figures behind a drawing, under a fold, and as a file. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { csv, sorted, type Cell } from "../model/rows";
import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { saveFile } from "../ui/save-file";
import { figure } from "./words";
import { locale, t } from "../texts";

export interface TableProps {
  name: string;
  heads: readonly string[];
  rows: readonly (readonly Cell[])[];
}

interface Order {
  readonly place: number;
  readonly down: boolean;
}

const shown = (cell: Cell): string => (cell === null ? "" : typeof cell === "number" ? figure(cell) : cell);
const cellStyle = { textAlign: "left", padding: "0.15em 0.6em 0.15em 0", verticalAlign: "top" } as const;

export function FailingTable({ name, heads, rows }: TableProps): JSX.Element {
  const [order, setOrder] = useState<Order | null>(null);
  const held = order ? sorted(rows, (row) => row[order.place] ?? null, { descending: order.down, locale: locale() }) : rows;
  const turn = (place: number): void => setOrder(order?.place === place ? (order.down ? null : { place, down: true }) : { place, down: false });
  return (
    <Fold late title={t().failingTable.figuresOfIt(rows.length)}>
      <div style={{ overflowX: "auto" }} tabIndex={0} role="region" aria-label={t().failingTable.figures(name)}>
        <table>
          <thead><tr>{heads.map((each, place) => <th key={each} scope="col" style={cellStyle} aria-sort={order?.place !== place ? "none" : order.down ? "descending" : "ascending"}><button type="button" class="button quiet" style={{ padding: 0, textAlign: "left" }} onClick={() => turn(place)}>{each}<span aria-hidden="true">{order?.place !== place ? "" : order.down ? " ▼" : " ▲"}</span></button></th>)}</tr></thead>
          <tbody>
            {held.map((row, at) => <tr key={at}>{row.map((each, place) => <td key={place} class={typeof each === "number" ? "number" : undefined} style={cellStyle}>{shown(each)}</td>)}</tr>)}
          </tbody>
        </table>
      </div>
      <Button onTap={() => saveFile(`${name}.csv`, new Blob([csv(heads, held)], { type: "text/csv" }))}>{t().failingTable.saveAsATable}</Button>
    </Fold>
  );
}
