/** A table as a file for a spreadsheet. */

export type Cell = string | number | null;

/** Text that a spreadsheet would run as a formula is quoted. */
function cell(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export function csv(heads: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [heads, ...rows].map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
}

/** Puts a table into the phone's downloads. */
export function download(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
  Object.assign(document.createElement("a"), { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
