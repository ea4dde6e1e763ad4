/** English: what only a wide screen shows. */
import type { Shown } from "../shown";

export const sortTable = {
  narrow: "Only rows with",
  rows: (shown: number, all: number) => (shown === all ? `${all} rows` : `${shown} of ${all} rows`),
  save: "Save as a table",
  more: (many: number) => `${many} more`,
  keys: "Keys: j and k or the arrows from row to row, Enter opens, / searches.",
};

export const casesTable = {
  name: "Cases",
  what: "What it was",
  state: "State",
  unsent: (many: Shown) => `, ${many} unsent`,
  cause: "Cause",
  car: "Car",
  distance: "Odometer",
  cost: "Cost",
  by: "By",
  touched: "Last touched",
};
