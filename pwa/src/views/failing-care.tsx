/** Cars to ask after, the season ahead, neutral visits counted, and addresses that hear of alerts. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { t } from "../texts";
import type { FollowUps, Heard, Hook, Season, Sent, Visits } from "../wire";
import { At } from "./failing-at";
import { FailingTable } from "./failing-table";
import { Waiting, type Loaded } from "./trouble";
import { day, percent } from "./words";

export interface CareProps {
  followUps: Loaded<FollowUps>;
  season: Loaded<Season>;
  visits: Loaded<Visits>;
  hooks: Loaded<{ readonly hooks: readonly Hook[] }>;
  sent: Readonly<Record<string, readonly Sent[]>>;
  onHeard: (id: string, outcome: Heard) => void;
  onSeen: (make: string, model: string) => void;
  onHook: (url: string) => void;
  onTest: (id: string) => void;
  onSent: (id: string) => void;
  onUnhook: (id: string) => void;
  onRetry: () => void;
}

/** One tap keeps what was heard. */
function AskAfter({ followUps, onHeard, onRetry }: Pick<CareProps, "followUps" | "onHeard" | "onRetry">): JSX.Element {
  const rows = followUps.value?.follow_ups ?? [];
  return (
    <Bin title={t().care.askAfter} count={followUps.value ? rows.length : undefined}>
      <Waiting of={followUps} words={t().care.looking} onRetry={onRetry} />
      {followUps.value && rows.length === 0 && <p>{t().care.nobodyToAsk}</p>}
      <ol class="stack">
        {rows.map((row) => (
          <li class="slip" key={row.case}>
            <p class="strong"><a href={`#/case/${row.case}`}>{row.title || row.model}</a></p>
            <p class="soft">{[row.model, t().care.daysAgo(row.days), t().care.chanceBack(percent(row.risk)), row.tried && t().care.notReachedYet].filter(Boolean).join(" · ")}</p>
            {row.why.length > 0 && <p class="small">{row.why.join(" · ")}</p>}
            <Button kind="main" onTap={() => onHeard(row.case, "cured")}>{t().care.cured}</Button>
            <Button onTap={() => onHeard(row.case, "came back")}>{t().care.cameBack}</Button>
            <Button kind="quiet" onTap={() => onHeard(row.case, "not reached")}>{t().care.notReached}</Button>
          </li>
        ))}
      </ol>
    </Bin>
  );
}

function Ahead({ season, onRetry }: Pick<CareProps, "season" | "onRetry">): JSX.Element {
  const held = season.value;
  return (
    <Bin title={t().care.seasonAhead} count={held?.failures.length}>
      <Waiting of={season} words={t().care.looking} onRetry={onRetry} />
      {held && held.failures.length === 0 && <p>{t().care.noSeason}</p>}
      {held?.failures.map((row) => <p key={row.cause}>{row.says}</p>)}
      {held?.stock.filter((row) => row.keep > 0).map((row) => <p key={row.component} class="strong">{t().care.stock(row.keep, row.title, row.fitted, held.lead_days)}</p>)}
      {held && held.stock.length > 0 && <FailingTable of="season" heads={["part", "keep", "fittedThen", "chanceToRunOut", "price"]} rows={held.stock.map((row) => [row.title, row.keep, row.fitted, row.short, row.price])} />}
    </Bin>
  );
}

function CarSeen({ visits, onSeen }: Pick<CareProps, "visits" | "onSeen">): JSX.Element {
  const [make, setMake] = useState("");
  const [model, setModel] = useState("");
  const rows = visits.value?.visits ?? [];
  const known = [...new Map(rows.map((row) => [`${row.make ?? ""} ${row.model}`.trim(), row] as const)).values()];
  return (
    <Bin title={t().care.carSeen} count={rows.reduce((sum, row) => sum + row.count, 0)}>
      <p class="soft">{t().care.whyVisits}</p>
      {known.slice(0, 8).map((row) => <Button key={`${row.make ?? ""} ${row.model}`} onTap={() => onSeen(row.make ?? "", row.model)}>{t().care.seenOne(`${row.make ?? ""} ${row.model}`.trim())}</Button>)}
      <form onSubmit={(event) => { event.preventDefault(); if (model.trim()) onSeen(make.trim(), model.trim()); }}>
        <TextField label={t().care.make} value={make} caps="words" maxLength={80} onText={setMake} />
        <TextField label={t().care.model} value={model} caps="words" maxLength={80} onText={setModel} />
        <button class="button" disabled={!model.trim()}>{t().care.count}</button>
      </form>
      {rows.length > 0 && <FailingTable of="visits" heads={["month", "make", "model", "seen"]} rows={rows.map((row) => [row.month, row.make ?? "", row.model, row.count])} />}
    </Bin>
  );
}

function Address({ hook, sent, props }: { hook: Hook; sent: readonly Sent[] | undefined; props: CareProps }): JSX.Element {
  return (
    <li class="slip">
      <p class="strong" style={{ overflowWrap: "anywhere" }}>{hook.url}</p>
      {hook.secret && <p>{t().care.secretOnce} <code style={{ overflowWrap: "anywhere" }}>{hook.secret}</code></p>}
      <Button onTap={() => props.onTest(hook.id)}>{t().care.sendTest}</Button>
      <Button onTap={() => props.onSent(hook.id)}>{t().care.showSent}</Button>
      <Button kind="danger" onTap={() => props.onUnhook(hook.id)}>{t().care.remove}</Button>
      {sent?.length === 0 && <p>{t().care.nothingSent}</p>}
      {sent?.slice(0, 10).map((one) => <p key={one.id} class="small">{[t().care.states[one.state], one.title, day(one.ended ?? one.made), t().care.tries(one.tries), one.trouble].filter(Boolean).join(" · ")}</p>)}
    </li>
  );
}

function Addresses(props: CareProps): JSX.Element {
  const [url, setUrl] = useState("");
  const held = props.hooks.value?.hooks ?? [];
  return (
    <Bin title={t().care.addresses} count={held.length}>
      <Waiting of={props.hooks} words={t().care.looking} onRetry={props.onRetry} />
      <ul class="stack">{held.map((hook) => <Address key={hook.id} hook={hook} sent={props.sent[hook.id]} props={props} />)}</ul>
      <form onSubmit={(event) => { event.preventDefault(); if (url.trim()) props.onHook(url.trim()); setUrl(""); }}>
        <TextField label={t().care.newAddress} value={url} caps="none" maxLength={500} onText={setUrl} />
        <button class="button" disabled={!url.trim()}>{t().care.add}</button>
      </form>
    </Bin>
  );
}

export function FailingCare(props: CareProps): JSX.Element {
  const { followUps, season } = props;
  return (
    <At part="care" says={followUps.value && season.value ? t().failingSays.toDo(followUps.value.follow_ups.length, season.value.failures.length) : undefined}>
      <AskAfter {...props} />
      <Ahead {...props} />
      <CarSeen {...props} />
      <Addresses {...props} />
    </At>
  );
}
