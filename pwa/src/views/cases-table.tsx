/** The shop's cases as a table, for a wide screen. */
import type { JSX } from "preact";

import type { LocalCase } from "../model/local-case";
import { SortTable, type Column } from "../ui/sort-table";
import type { Trade } from "../wire";
import { ago, headline, money, named, odometer, stateWords, titleOf, vehicleWords } from "./words";
import { t } from "../texts";

interface CasesTableProps {
  files: readonly LocalCase[];
  trade: Trade;
  now: Date;
  currency: string;
  onOpen: (id: string) => void;
  onFile: (name: string, text: string) => void;
}

const causeOf = (file: LocalCase, trade: Trade): string =>
  file.cause_title || titleOf(trade.causes, file.cause) || (file.unresolved_reason ? named(file.unresolved_reason) : "");

function columnsOf({ trade, now, currency }: CasesTableProps): readonly Column<LocalCase>[] {
  return [
    { id: "what", head: t().casesTable.what, value: headline },
    { id: "state", head: t().casesTable.state, value: (file) => stateWords(file.state) + (file.unsent > 0 ? t().casesTable.unsent(file.unsent) : "") },
    { id: "cause", head: t().casesTable.cause, value: (file) => causeOf(file, trade) },
    { id: "car", head: t().casesTable.car, value: (file) => vehicleWords(file.vehicle) },
    { id: "distance", head: t().casesTable.distance, value: (file) => file.vehicle.odometer?.value ?? null, show: (file) => odometer(file.vehicle.odometer) },
    { id: "cost", head: t().casesTable.cost, value: (file) => (file.cost.total > 0 ? file.cost.total : null), show: (file) => (file.cost.total > 0 ? money(file.cost.total, file.cost.currency || currency) : "") },
    { id: "by", head: t().casesTable.by, value: (file) => file.by },
    { id: "touched", head: t().casesTable.touched, value: (file) => file.updated ?? file.opened, show: (file) => ago(file.updated ?? file.opened, now) },
  ];
}

export function CasesTable(props: CasesTableProps): JSX.Element {
  const { files, onOpen, onFile } = props;
  return (
    <SortTable
      name={t().casesTable.name} columns={columnsOf(props)} rows={files} keyOf={(file) => file.id} filter={false}
      onOpen={(file) => onOpen(file.id)} onFile={onFile}
    />
  );
}
