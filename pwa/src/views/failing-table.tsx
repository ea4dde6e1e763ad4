/** The figures behind a drawing, under a fold, and as a file. */
import type { JSX } from "preact";
import { useContext } from "preact/hooks";

import { csv, sorted, type Cell } from "../model/rows";
import { Button } from "../ui/button";
import { saveFile } from "../ui/save-file";
import { Kept, KeptFold } from "./failing-kept";
import { figure } from "./words";
import { locale, t, type Texts } from "../texts";

type HeadId = keyof Texts["heads"];

export interface TableProps {
  of: keyof Texts["tables"];
  /** Columns by their heads' ids; one with words of its own brings them. */
  heads: readonly (HeadId | readonly [id: string, words: string])[];
  rows: readonly (readonly Cell[])[];
}

const shown = (cell: Cell): string => (cell === null ? "" : typeof cell === "number" ? figure(cell) : cell);
const cellStyle = { textAlign: "left", padding: "0.15em 0.6em 0.15em 0", verticalAlign: "top" } as const;

export function FailingTable({ of, heads, rows }: TableProps): JSX.Element {
  const { orders, onOrder } = useContext(Kept);
  const name = t().tables[of];
  const columns = heads.map((each) => (typeof each === "string" ? ([each, t().heads[each]] as const) : each));
  const order = orders[of] ?? null;
  const by = columns.findIndex(([id]) => id === order?.column);
  const held = by >= 0 ? sorted(rows, (row) => row[by] ?? null, { descending: order?.down ?? false, locale: locale() }) : rows;
  const turn = (column: string): void => onOrder(of, order?.column !== column ? { column, down: false } : order.down ? null : { column, down: true });
  const way = (column: string): "none" | "ascending" | "descending" => (order?.column !== column ? "none" : order.down ? "descending" : "ascending");
  return (
    <KeptFold id={of} title={t().failingTable.figuresOfIt(rows.length)}>
      <div style={{ overflowX: "auto" }} tabIndex={0} role="region" aria-label={t().failingTable.figures(name)}>
        <table>
          <thead><tr>{columns.map(([id, words]) => <th key={id} scope="col" style={cellStyle} aria-sort={way(id)}><button type="button" class="button quiet" style={{ padding: 0, textAlign: "left" }} onClick={() => turn(id)}>{words}<span aria-hidden="true">{{ none: "", ascending: " ▲", descending: " ▼" }[way(id)]}</span></button></th>)}</tr></thead>
          <tbody>
            {held.map((row, at) => <tr key={at}>{row.map((each, place) => <td key={place} class={typeof each === "number" ? "number" : undefined} style={cellStyle}>{shown(each)}</td>)}</tr>)}
          </tbody>
        </table>
      </div>
      <Button onTap={() => saveFile(`${name}.csv`, new Blob([csv(columns.map(([, words]) => words), held)], { type: "text/csv" }))}>{t().failingTable.saveAsATable}</Button>
    </KeptFold>
  );
}
