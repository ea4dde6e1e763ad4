/** The shop's cases as copied to this phone: search, by state, one tap to read. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import type { LocalCase } from "../model/local-case";
import { PickOne } from "../ui/chips";
import { Button, LinkButton } from "../ui/button";
import { TextField } from "../ui/field";
import { Busy, Empty, Notice } from "../ui/notice";
import type { CaseState, Trade } from "../wire";
import { ago, headline, named, stateWords, titleOf, vehicleWords } from "./words";
import { t } from "../texts";

interface CasesProps {
  files: readonly LocalCase[];
  trade: Trade;
  now: Date;
  ready: boolean;
  online: boolean;
  lastSync: string | null;
  state: CaseState | "all";
  search: (text: string) => readonly LocalCase[];
  onState: (state: CaseState | "all") => void;
  /** Shows them where the screen is wide. */
  table?: (props: { files: readonly LocalCase[] }) => JSX.Element;
}

const STATES = [
  { value: "open", get label() { return t().cases.open; } },
  { value: "closed", get label() { return t().cases.closed; } },
  { value: "unresolved", get label() { return t().cases.notSolved; } },
  { value: "all", get label() { return t().cases.all; } },
];

const PAGE = 25;

export function CaseSlip({ file, trade, now }: { file: LocalCase; trade: Trade; now: Date }): JSX.Element {
  const cause = file.cause_title || titleOf(trade.causes, file.cause) || (file.unresolved_reason ? named(file.unresolved_reason) : "");
  return (
    <a class="slip" href={`#/case/${file.id}`}>
      <span class="slip-top">
        <span class="slip-title">{headline(file)}</span>
        <span class={`state ${file.state}`}>{stateWords(file.state)}</span>
      </span>
      {cause && <span>{cause}</span>}
      <span class="soft">{[vehicleWords(file.vehicle), ago(file.updated ?? file.opened, now), file.by].filter(Boolean).join(" · ")}</span>
      {file.unsent > 0 && <span class="strong">{file.parked > 0 ? t().cases.notTakenByTheService(file.parked) : t().cases.notSentYet(file.unsent)}</span>}
      {file.comeback_of && <span class="strong">{t().cases.comeback}</span>}
    </a>
  );
}

export function CasesScreen(props: CasesProps): JSX.Element {
  const { files, state, search, onState, ready, online, lastSync, trade, now, table: Table } = props;
  const [text, setText] = useState("");
  const [shown, setShown] = useState(PAGE);
  const found = (text.trim() ? search(text) : files).filter((each) => !each.joined_into && (state === "all" || each.state === state));
  return (
    <div class={Table ? "place desk" : "place"}>
      <TextField label={t().cases.findACase} mode="search" caps="none" value={text} onText={setText} placeholder={t().cases.wordsCodeModelOrPart} />
      <PickOne label={t().cases.state} shown={false} value={state} choices={STATES} onPick={(value) => onState(value as CaseState | "all")} />
      {!ready && <Busy>{t().cases.openingTheCopyOnThis}</Busy>}
      {!online && <Notice kind="warn" title={lastSync ? t().cases.noSignalCopyFrom(ago(lastSync, now)) : t().cases.noSignalCopy} />}
      {ready && found.length === 0 && (
        <Empty title={text ? t().cases.noCaseHasTheseWords : state === "open" ? t().cases.noOpenCase : t().cases.noCaseHereYet}>
          <p>{text ? t().cases.tryFewerWordsOrAll : t().cases.askTheMemoryTheFirst}</p>
          <LinkButton href="#/ask">{t().cases.ask}</LinkButton>
        </Empty>
      )}
      {Table ? found.length > 0 && <Table files={found} /> : <ul class="stack" aria-label={t().cases.cases}>{found.slice(0, shown).map((file) => <li key={file.id}><CaseSlip file={file} trade={trade} now={now} /></li>)}</ul>}
      {!Table && found.length > shown && <Button onTap={() => setShown(shown + PAGE)}>{t().cases.more(found.length - shown)}</Button>}
    </div>
  );
}
