/** The figures behind a drawing, under a fold, and as a file. */
import type { JSX } from "preact";
import { useContext } from "preact/hooks";

import { csv, type Cell } from "../model/rows";
import { Button } from "../ui/button";
import { saveFile } from "../ui/save-file";
import { inOrder, SortHead } from "../ui/sort-head";
import { Kept, KeptFold } from "./failing-kept";
import { figure } from "./words";
import { t, type Texts } from "../texts";

type HeadId = keyof Texts["heads"];

export interface TableProps {
  of: keyof Texts["tables"];
  /** Columns by their heads' ids; one with words of its own brings them. */
  heads: readonly (HeadId | readonly [id: string, words: string])[];
  rows: readonly (readonly Cell[])[];
}

const shown = (cell: Cell): string => (cell === null ? "" : typeof cell === "number" ? figure(cell) : cell);

export function FailingTable({ of, heads, rows }: TableProps): JSX.Element {
  const { orders, onOrder } = useContext(Kept);
  const name = t().tables[of];
  const columns = heads.map((each) => (typeof each === "string" ? ([each, t().heads[each]] as const) : each));
  const order = orders[of] ?? null;
  const by = columns.findIndex(([id]) => id === order?.column);
  const held = inOrder(rows, order, by < 0 ? undefined : (row) => row[by] ?? null);
  return (
    <KeptFold id={of} title={t().failingTable.figuresOfIt(rows.length)}>
      <div class="figures" tabIndex={0} role="region" aria-label={t().failingTable.figures(name)}>
        <table>
          <thead><tr>{columns.map(([id, words]) => <SortHead key={id} id={id} words={words} order={order} onOrder={(next) => onOrder(of, next)} />)}</tr></thead>
          <tbody>
            {held.map((row, at) => <tr key={at}>{row.map((each, place) => <td key={place} class={typeof each === "number" ? "number" : undefined}>{shown(each)}</td>)}</tr>)}
          </tbody>
        </table>
      </div>
      <Button onTap={() => saveFile(`${name}.csv`, new Blob([csv(columns.map(([, words]) => words), held)], { type: "text/csv" }))}>{t().failingTable.saveAsATable}</Button>
    </KeptFold>
  );
}
