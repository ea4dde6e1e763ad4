/** The shop's back room: what is unsent, who is here, which phones, and the shop's habits. */
import type { JSX } from "preact";

import type { Entry } from "../model/outbox";
import type { SyncState } from "../model/sync-state";
import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import type { Device, Me, Shop, Trade, Tuning } from "../wire";
import { Members, type MembersProps } from "./shop-members";
import { ShopHabits } from "./shop-habits";
import { ShopLimits } from "./shop-limits";
import { ShopLook, type LookProps } from "./shop-look";
import { ShopWords, type ShopWordsProps } from "./shop-words";
import { TunedLine } from "./shop-tuned";
import { Unsent } from "./shop-unsent";
import { Waiting, type Loaded } from "./trouble";
import { ago } from "./words";

export interface ShopProps extends MembersProps, Omit<ShopWordsProps, "words">, LookProps {
  me: Me;
  sync: SyncState;
  outbox: readonly Entry[];
  kept: boolean | null;
  newVersion: boolean;
  now: Date;
  devices: Loaded<readonly Device[]>;
  caseTitle: (id: string) => string;
  trade: Trade;
  tuning: Tuning | null;
  onSync: () => void;
  onRetry: (key: string) => void;
  onLetGo: (key: string) => void;
  onRevoke: (device: string) => void;
  onShop: (change: Partial<Omit<Shop, "id">>) => void;
  onSignOut: (discard: boolean) => void;
  onNewVersion: () => void;
  onExport: () => void;
  onReload: () => void;
  said: string;
}

const LINKS: Readonly<Record<SyncState["link"], string>> = {
  unknown: "Looking for the service",
  online: "Connected",
  offline: "No signal: work goes on, everything is kept here",
  "signed out": "Signed out by the shop",
};

function Sending({ sync, outbox, kept, now, caseTitle, onSync, onRetry, onLetGo }: ShopProps): JSX.Element {
  return (
    <Bin title="Sending" count={outbox.length === 0 ? "All sent" : `${outbox.length} unsent`}>
      <p class="strong">{LINKS[sync.link]}</p>
      {sync.lastSync && <p>Last in step {ago(sync.lastSync, now)}</p>}
      {sync.trouble && <Notice kind="warn" title={sync.trouble} />}
      {kept === false && <Notice kind="warn" title="This browser may clear unsent work"><p>Add Baylore to the home screen, and it keeps its notes.</p></Notice>}
      <Unsent entries={outbox} now={now} caseTitle={caseTitle} onRetry={onRetry} onLetGo={onLetGo} />
      <Button shape="tray" onTap={onSync} disabled={sync.busy}>{sync.busy ? "Sending" : "Send and fetch now"}</Button>
    </Bin>
  );
}

function Phones({ devices, now, onRevoke, onReload }: ShopProps): JSX.Element {
  const live = (devices.value ?? []).filter((each) => !each.revoked);
  return (
    <Bin title="Phones" count={devices.value ? live.length : undefined}>
      <Waiting of={devices} words="Looking up phones" onRetry={onReload} />
      {devices.value && live.length === 0 && <Empty title="No phone signed in" />}
      {live.map((each) => (
        <div class="slip" key={each.id}>
          <p class="slip-title">{each.name}{each.this && " (this phone)"}</p>
          <p class="soft">{typeof each.member === "string" ? each.member : each.member.name}{each.last_seen && `, seen ${ago(each.last_seen, now)}`}</p>
          {!each.this && <AskTwice question={`Lock ${each.name} out? Its copy is wiped when it calls in.`} sure="Lock out" onTap={() => onRevoke(each.id)}>Lost: lock it out</AskTwice>}
        </div>
      ))}
    </Bin>
  );
}

function Leave({ outbox, onSignOut }: ShopProps): JSX.Element {
  const unsent = outbox.length;
  const question = unsent > 0 ? `${unsent} not sent yet will be lost. Sign out?` : "Sign out and wipe this phone's copy?";
  return <AskTwice question={question} sure={unsent > 0 ? "Lose them" : "Sign out"} onTap={() => onSignOut(unsent > 0)}>Sign out</AskTwice>;
}

export function ShopScreen(props: ShopProps): JSX.Element {
  const { me, newVersion, onNewVersion, onExport, said } = props;
  const manager = me.member.role === "manager";
  return (
    <div class="place">
      <Bin title={me.shop.name}>
        <dl class="slip key-value">
          <dt>You</dt><dd>{me.member.name}, {me.member.role}</dd>
          <dt>This phone</dt><dd>{me.device.name}</dd>
          <dt>Skill</dt><dd>{me.member.skill} of 4</dd>
          {me.member.rights.length > 0 && <><dt>You hold</dt><dd>{me.member.rights.join(", ")}</dd></>}
        </dl>
      </Bin>
      {said && <Notice kind="bad" title={said} />}
      {newVersion && <Notice kind="good" title="A newer version is ready"><Button onTap={onNewVersion}>Take it now</Button></Notice>}
      <Sending {...props} />
      {manager && <Members {...props} />}
      <Phones {...props} />
      <ShopLook {...props} />
      <ShopWords {...props} words={props.trade.words} />
      {manager && <ShopLimits shop={me.shop} trade={props.trade} onShop={props.onShop} />}
      {manager && <TunedLine tuning={props.tuning} now={props.now} />}
      {manager ? <ShopHabits shop={me.shop} onShop={props.onShop} onExport={onExport} /> : (
        <Bin title="Habits"><p class="slip">{me.shop.unit_system === "us" ? "psi, °F, miles" : "kPa, °C, km"}; {me.shop.currency}</p></Bin>
      )}
      <Leave {...props} />
    </div>
  );
}

