/** The cases as a table, wired; loaded where the screen is wide. */
import type { JSX } from "preact";

import { saveFile } from "./ui/save-file";
import { go } from "./app-route";
import * as app from "./app-state";
import type { LocalCase } from "./model/local-case";
import { CasesTable } from "./views/cases-table";
import "./style/desk.css";

const saveTable = (name: string, text: string): void => saveFile(name, new Blob([text], { type: "text/csv" }));

export function DeskCases({ files }: { files: readonly LocalCase[] }): JSX.Element {
  return <CasesTable files={files} trade={app.phone.trade.value} now={app.now.value} currency={app.currency.value} onOpen={(id) => go(`#/case/${id}`)} onFile={saveTable} />;
}
