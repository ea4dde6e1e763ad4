/** A table for the desk: sorted by its heads, narrowed by words, walked with the keys, saved as a file. */
import type { ComponentChildren, JSX, RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

import { csv, narrowed, type Cell, type Order } from "../model/rows";
import { Button } from "./button";
import { TextField } from "./field";
import { inOrder, SortHead } from "./sort-head";
import { t } from "../texts";

export interface Column<T> {
  id: string;
  head: string;
  /** What it is sorted by and what the file holds. */
  value: (row: T) => Cell;
  /** How it is shown, where that is not the value itself. */
  show?: (row: T) => ComponentChildren;
}

export interface SortTableProps<T> {
  /** Said aloud, and the name of the file. */
  name: string;
  columns: readonly Column<T>[];
  rows: readonly T[];
  keyOf: (row: T) => string;
  onOpen?: (row: T) => void;
  onFile: (name: string, text: string) => void;
  /** Where the screen has a search of its own, the table has none. */
  filter?: boolean;
}

const PAGE = 100;
const STEP: Readonly<Record<string, number>> = { j: 1, ArrowDown: 1, k: -1, ArrowUp: -1 };

/** Keys mean letters while something is typed, and belong to a sheet while one is open. */
const isBusy = (target: EventTarget | null): boolean =>
  document.querySelector("dialog[open]") !== null || (target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName)));

/** j, k and the arrows go from row to row, / goes to the search. */
function useKeys(body: RefObject<HTMLTableSectionElement | null>): void {
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || isBusy(event.target)) return;
      const step = STEP[event.key];
      const rows = [...(body.current?.rows ?? [])];
      if (event.key === "/") document.querySelector<HTMLElement>("main input[type=search]")?.focus();
      else if (step && rows.length > 0) {
        const at = rows.findIndex((row) => row.contains(document.activeElement));
        rows[Math.min(rows.length - 1, Math.max(0, at + step))]?.focus();
      } else return;
      event.preventDefault();
    };
    document.addEventListener("keydown", press);
    return () => document.removeEventListener("keydown", press);
  }, []);
}

function Row<T>({ row, columns, onOpen }: { row: T; columns: readonly Column<T>[]; onOpen: ((row: T) => void) | undefined }): JSX.Element {
  const open = (): void => onOpen?.(row);
  const press = (event: KeyboardEvent): void => {
    if (event.key === "Enter") open();
  };
  return (
    <tr tabIndex={-1} class={onOpen ? "opens" : undefined} onClick={open} onKeyDown={press}>
      {columns.map(({ id, value, show }, at) => {
        const plain = value(row);
        const shown = show ? show(row) : plain;
        const kind = typeof plain === "number" ? "number" : undefined;
        // One link in each row, for those who walk by Tab or hear the page read.
        return <td key={id} class={kind}>{at === 0 && onOpen ? <button type="button" class="row-open" onClick={(event) => { event.stopPropagation(); open(); }}>{shown}</button> : shown}</td>;
      })}
    </tr>
  );
}

const textIn = <T,>(columns: readonly Column<T>[]) => (row: T): string =>
  columns.map(({ value, show }) => [value(row), show?.(row)].filter((each) => typeof each === "string" || typeof each === "number").join(" ")).join(" ");

export function SortTable<T>({ name, columns, rows, keyOf, onOpen, onFile, filter = true }: SortTableProps<T>): JSX.Element {
  const [order, setOrder] = useState<Order | null>(null);
  const [words, setWords] = useState("");
  const [most, setMost] = useState(PAGE);
  const body = useRef<HTMLTableSectionElement>(null);
  useKeys(body);
  const found = narrowed(rows, words, textIn(columns));
  const shown = inOrder(found, order, columns.find((each) => each.id === order?.column)?.value);
  const save = (): void => onFile(`${name}.csv`, csv(columns.map((each) => each.head), shown.map((row) => columns.map((each) => each.value(row)))));
  return (
    <div class="stack">
      <div class="entry-row">
        {filter && <TextField label={t().sortTable.narrow} mode="search" caps="none" value={words} onText={setWords} />}
        <p class="soft" role="status">{t().sortTable.rows(shown.length, rows.length)}</p>
        <Button onTap={save} disabled={shown.length === 0}>{t().sortTable.save}</Button>
      </div>
      <div class="sort-table" role="region" aria-label={name} tabIndex={0}>
        <table>
          <thead><tr>{columns.map((each) => <SortHead key={each.id} id={each.id} words={each.head} order={order} onOrder={setOrder} />)}</tr></thead>
          <tbody ref={body}>{shown.slice(0, most).map((row) => <Row key={keyOf(row)} row={row} columns={columns} onOpen={onOpen} />)}</tbody>
        </table>
      </div>
      {shown.length > most && <Button onTap={() => setMost(most + PAGE)}>{t().sortTable.more(shown.length - most)}</Button>}
      <p class="soft small">{t().sortTable.keys}</p>
    </div>
  );
}
