/** Rows of a table put in order, narrowed by words, and written for a spreadsheet. */

export type Cell = string | number | null;

/** How a table is sorted: the column by the id of its head, and whether the highest come first. */
export interface Order {
  readonly column: string;
  readonly down: boolean;
}

/** By one value: figures by size, words as a person would, what is missing last either way. Rows alike keep their order. */
export function sorted<T>(rows: readonly T[], value: (row: T) => Cell, { descending = false, locale }: { descending?: boolean; locale?: string | undefined } = {}): readonly T[] {
  const collate = new Intl.Collator(locale, { numeric: true, sensitivity: "base" }).compare;
  const missing = (cell: Cell): boolean => cell === null || cell === "";
  const compare = (a: Cell, b: Cell): number => (typeof a === "number" && typeof b === "number" ? a - b : collate(String(a), String(b)));
  return [...rows].sort((one, other) => {
    const [a, b] = [value(one), value(other)];
    if (missing(a) || missing(b)) return Number(missing(a)) - Number(missing(b));
    return descending ? compare(b, a) : compare(a, b);
  });
}

const folded = (text: string): string => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

/** The rows that hold every word somewhere; accents and capitals do not matter. */
export function narrowed<T>(rows: readonly T[], words: string, textOf: (row: T) => string): readonly T[] {
  const wanted = folded(words).split(/\s+/).filter(Boolean);
  return wanted.length === 0 ? rows : rows.filter((row) => wanted.every((word) => folded(textOf(row)).includes(word)));
}

/** Text that a spreadsheet would run as a formula is quoted. */
function field(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Comma separated values (RFC 4180). */
export const csv = (heads: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  [heads, ...rows].map((row) => row.map(field).join(",")).join("\r\n") + "\r\n";
