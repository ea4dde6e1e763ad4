/** What is looked at of what keeps failing, and its words in the address: the same address shows the same. */

import type { Order } from "./rows";

const CAR = ["make", "model", "year", "engine", "season", "odometer"] as const;
const FAILURE = ["system", "component", "cause"] as const;
/** What can be counted by, in the order of a key. */
export const NAMES = [...CAR, ...FAILURE] as const;
export type Name = (typeof NAMES)[number];
export type Names = Readonly<Partial<Record<Name, string>>>;
/** The parts of the place, from top to bottom. */
export const PARTS = ["alerts", "rows", "parts", "glance", "office", "care"] as const;
export type Part = (typeof PARTS)[number];
export const ALERTS = ["open", "acknowledged", "muted", "over"] as const;

export interface FailingView {
  /** The part of the place that is gone to, on a phone the one unfolded; empty for its top. */
  readonly at: Part | "";
  readonly by: readonly Name[];
  /** Days as 2026-03-11; empty for no end. */
  readonly since: string;
  readonly until: string;
  /** Fewest cases of a row. */
  readonly least: number;
  /** Names the rows must have. */
  readonly only: Names;
  /** The row whose months are drawn; empty for none. */
  readonly row: Names;
  readonly alerts: (typeof ALERTS)[number];
  /** The month of the printed page; empty for this one. */
  readonly month: string;
  readonly orders: Readonly<Record<string, Order>>;
  /** What is unfolded. */
  readonly open: readonly string[];
}

export const USUAL: FailingView = { at: "", by: ["model", "system"], since: "", until: "", least: 2, only: {}, row: {}, alerts: "open", month: "", orders: {}, open: [] };

const MOST = 10_000;
const words = (text: string | null): readonly string[] => [...new Set((text ?? "").split(",").filter(Boolean))];
const matching = (text: string | null, pattern: RegExp): string => (text && pattern.test(text) ? text : "");

function named(query: URLSearchParams, prefix: string): Names {
  const found = NAMES.map((name) => [name, query.get(prefix + name)] as const).filter(([, value]) => value);
  return Object.fromEntries(found) as Names;
}

function ordersOf(query: URLSearchParams): FailingView["orders"] {
  const sorts = [...query].filter(([key, value]) => key.startsWith("sort.") && value);
  return Object.fromEntries(sorts.map(([key, value]) => [key.slice(5), { column: value.replace(/^-/, ""), down: value.startsWith("-") }]));
}

/** The view of an address's query; what is not understood is passed over. */
export function viewOf(text: string): FailingView {
  const query = new URLSearchParams(text);
  const by = words(query.get("by"));
  const chosen = NAMES.filter((name) => by.includes(name));
  const least = Number(query.get("least") ?? USUAL.least);
  return {
    at: PARTS.find((each) => each === query.get("at")) ?? USUAL.at,
    by: chosen.length > 0 ? chosen : USUAL.by,
    since: matching(query.get("since"), /^\d{4}-\d\d-\d\d$/),
    until: matching(query.get("until"), /^\d{4}-\d\d-\d\d$/),
    least: Number.isInteger(least) && least >= 1 && least <= MOST ? least : USUAL.least,
    only: named(query, ""),
    row: named(query, "row."),
    alerts: ALERTS.find((each) => each === query.get("alerts")) ?? USUAL.alerts,
    month: matching(query.get("month"), /^\d{4}-\d\d$/),
    orders: ordersOf(query),
    open: words(query.get("open")),
  };
}

/** What the rows are asked for with. */
export function rowsAsked(view: FailingView): string {
  const least = view.least === USUAL.least ? "" : String(view.least);
  return written({ by: view.by.join(","), since: view.since, until: view.until, least, ...view.only });
}

/** What a row's months are asked for with; empty where none is chosen. */
export function monthsAsked({ row, since, until }: FailingView): string {
  return Object.keys(row).length > 0 ? written({ by: Object.keys(row).join(","), since, until, ...row }) : "";
}

/** The query of a view, always in one order; empty for the usual view. */
export function addressOf(view: FailingView): string {
  const sorts = Object.entries(view.orders).sort(([a], [b]) => (a < b ? -1 : 1)).map(([table, { column, down }]) => [`sort.${table}`, (down ? "-" : "") + column]);
  const rows = rowsAsked(view) === rowsAsked(USUAL) ? "" : rowsAsked(view);
  const rest = written({
    ...Object.fromEntries(NAMES.map((name) => [`row.${name}`, view.row[name] ?? ""])),
    at: view.at,
    alerts: view.alerts === USUAL.alerts ? "" : view.alerts,
    month: view.month,
    ...Object.fromEntries(sorts),
    open: [...view.open].sort().join(","),
  });
  return [rows, rest].filter(Boolean).join("&");
}

/** Commas stay as they are, so that an address can be read. */
const written = (given: Readonly<Record<string, string>>): string =>
  new URLSearchParams(Object.entries(given).filter(([, value]) => value)).toString().replaceAll("%2C", ",");
