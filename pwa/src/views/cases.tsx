/** The shop's cases as copied to this phone: search, by state, one tap to read. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import type { LocalCase } from "../model/local-case";
import { PickOne } from "../ui/chips";
import { Button, LinkButton } from "../ui/button";
import { TextField } from "../ui/field";
import { Busy, Empty, Notice } from "../ui/notice";
import type { CaseState, Trade } from "../wire";
import { ago, headline, sentence, stateWords, titleOf, vehicleWords } from "./words";

export interface CasesProps {
  files: readonly LocalCase[];
  trade: Trade;
  now: Date;
  ready: boolean;
  online: boolean;
  lastSync: string | null;
  state: CaseState | "all";
  search: (text: string) => readonly LocalCase[];
  onState: (state: CaseState | "all") => void;
}

const STATES = [
  { value: "open", label: "Open" },
  { value: "closed", label: "Closed" },
  { value: "unresolved", label: "Not solved" },
  { value: "all", label: "All" },
];

const PAGE = 25;

export function CaseSlip({ file, trade, now }: { file: LocalCase; trade: Trade; now: Date }): JSX.Element {
  const cause = file.cause_title || titleOf(trade.causes, file.cause) || (file.unresolved_reason ? sentence(file.unresolved_reason) : "");
  return (
    <a class="slip" href={`#/case/${file.id}`}>
      <span class="slip-top">
        <span class="slip-title">{headline(file)}</span>
        <span class={`state ${file.state}`}>{stateWords(file.state)}</span>
      </span>
      {cause && <span>{cause}</span>}
      <span class="soft">{[vehicleWords(file.vehicle), ago(file.updated ?? file.opened, now), file.by].filter(Boolean).join(" · ")}</span>
      {file.unsent > 0 && <span class="strong">{file.parked > 0 ? `${file.parked} not taken by the service` : `${file.unsent} not sent yet`}</span>}
      {file.comeback_of && <span class="strong">Comeback</span>}
    </a>
  );
}

export function CasesScreen(props: CasesProps): JSX.Element {
  const { files, state, search, onState, ready, online, lastSync, trade, now } = props;
  const [text, setText] = useState("");
  const [shown, setShown] = useState(PAGE);
  const found = (text.trim() ? search(text) : files).filter((each) => !each.joined_into && (state === "all" || each.state === state));
  return (
    <div class="place">
      <TextField label="Find a case" mode="search" caps="none" value={text} onText={setText} placeholder="words, code, model or part" />
      <PickOne label="State" shown={false} value={state} choices={STATES} onPick={(value) => onState(value as CaseState | "all")} />
      {!ready && <Busy>Opening the copy on this phone</Busy>}
      {!online && <Notice kind="warn" title={`No signal: this phone's copy${lastSync ? `, from ${ago(lastSync, now)}` : ""}`} />}
      {ready && found.length === 0 && (
        <Empty title={text ? "No case has these words" : state === "open" ? "No open case" : "No case here yet"}>
          <p>{text ? "Try fewer words, or All." : "Ask the memory; the first outcome you tap opens a case by itself."}</p>
          <LinkButton href="#/ask">Ask</LinkButton>
        </Empty>
      )}
      <ul class="stack" aria-label="Cases">{found.slice(0, shown).map((file) => <li key={file.id}><CaseSlip file={file} trade={trade} now={now} /></li>)}</ul>
      {found.length > shown && <Button onTap={() => setShown(shown + PAGE)}>{`${found.length - shown} more`}</Button>}
    </div>
  );
}
