/** The figures behind a drawing, under a fold, and as a file. */
import type { JSX } from "preact";

import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { csv, download, type Cell } from "./failing-csv";
import { figure } from "./words";
import { t } from "../texts";

export interface TableProps {
  name: string;
  heads: readonly string[];
  rows: readonly (readonly Cell[])[];
}

const shown = (cell: Cell): string => (cell === null ? "" : typeof cell === "number" ? figure(cell) : cell);
const cellStyle = { textAlign: "left", padding: "0.15em 0.6em 0.15em 0", verticalAlign: "top" } as const;

export function FailingTable({ name, heads, rows }: TableProps): JSX.Element {
  return (
    <Fold late title={t().failingTable.figuresOfIt(rows.length)}>
      <div style={{ overflowX: "auto" }} tabIndex={0} role="region" aria-label={t().failingTable.figures(name)}>
        <table>
          <thead><tr>{heads.map((each) => <th key={each} scope="col" style={cellStyle}>{each}</th>)}</tr></thead>
          <tbody>
            {rows.map((row, at) => <tr key={at}>{row.map((each, place) => <td key={place} class={typeof each === "number" ? "number" : undefined} style={cellStyle}>{shown(each)}</td>)}</tr>)}
          </tbody>
        </table>
      </div>
      <Button onTap={() => download(`${name}.csv`, csv(heads, rows))}>{t().failingTable.saveAsATable}</Button>
    </Fold>
  );
}
