/** The shop's back room: what is unsent, who is here, which phones, and the shop's habits. */
import type { JSX } from "preact";

import type { Entry } from "../model/outbox";
import type { SyncState } from "../model/sync-state";
import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import type { Case, Device, Me, Shop, Trade, Tuning } from "../wire";
import type { ClashActs } from "./clash";
import { Members, type MembersProps } from "./shop-members";
import { CopyLine, type CopyLineProps } from "./shop-copy";
import { ShopHabits } from "./shop-habits";
import { ShopLimits } from "./shop-limits";
import { ShopLook, type LookProps } from "./shop-look";
import { ShopSharing } from "./shop-sharing";
import { ShopWords, type ShopWordsProps } from "./shop-words";
import { TrailBin, type TrailProps } from "./shop-trail";
import { TunedLine } from "./shop-tuned";
import { Unsent } from "./shop-unsent";
import { Waiting, type Loaded } from "./trouble";
import { ago, named } from "./words";
import { APP, buildWords } from "../build";
import { t } from "../texts";

interface ShopProps extends MembersProps, ClashActs, Omit<ShopWordsProps, "words">, LookProps {
  me: Me;
  sync: SyncState;
  outbox: readonly Entry[];
  stored: readonly Case[];
  kept: boolean | null;
  copy: CopyLineProps;
  newVersion: boolean;
  now: Date;
  devices: Loaded<readonly Device[]>;
  caseTitle: (id: string) => string;
  onTrail: TrailProps["onTrail"];
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
  get unknown() { return t().shop.lookingForTheService; },
  get online() { return t().shop.connected; },
  get offline() { return t().shop.noSignalWorkGoesOn; },
  get "signed out"() { return t().shop.signedOutByTheShop; },
};

function Sending({ sync, outbox, kept, copy, now, onSync, ...unsent }: ShopProps): JSX.Element {
  return (
    <Bin title={t().shop.sending} count={outbox.length === 0 ? t().shop.allSent : t().shop.unsent(outbox.length)}>
      <p class="strong">{LINKS[sync.link]}</p>
      {sync.lastSync && <p>{t().shop.lastInStep(ago(sync.lastSync, now))}</p>}
      <CopyLine {...copy} />
      {sync.trouble && <Notice kind="warn" title={sync.trouble} />}
      {kept === false && <Notice kind="warn" title={t().shop.thisBrowserMayClearUnsent}><p>{t().shop.addBayloreToTheHome}</p></Notice>}
      <Unsent entries={outbox} now={now} {...unsent} />
      <Button shape="tray" onTap={onSync} disabled={sync.busy}>{sync.busy ? t().shop.sending : t().shop.sendAndFetchNow}</Button>
    </Bin>
  );
}

function Phones({ devices, now, onRevoke, onReload }: ShopProps): JSX.Element {
  const live = (devices.value ?? []).filter((each) => !each.revoked);
  return (
    <Bin title={t().shop.phones} count={devices.value ? live.length : undefined}>
      <Waiting of={devices} words={t().shop.lookingUpPhones} onRetry={onReload} />
      {devices.value && live.length === 0 && <Empty title={t().shop.noPhoneSignedIn} />}
      {live.map((each) => (
        <div class="slip" key={each.id}>
          <p class="slip-title">{each.name}{each.this && t().shop.thisPhone}</p>
          <p class="soft">{typeof each.member === "string" ? each.member : each.member.name}{each.last_seen && t().shop.seen(ago(each.last_seen, now))}</p>
          {!each.this && <AskTwice question={t().shop.lockOutItsCopyIs(each.name)} sure={t().shop.lockOut} onTap={() => onRevoke(each.id)}>{t().shop.lostLockItOut}</AskTwice>}
        </div>
      ))}
    </Bin>
  );
}

function Leave({ outbox, onSignOut }: ShopProps): JSX.Element {
  const unsent = outbox.length;
  const question = unsent > 0 ? t().shop.notSentYetWillBe(unsent) : t().shop.signOutAndWipeThis;
  return <AskTwice question={question} sure={unsent > 0 ? t().shop.loseThem : t().shop.signOut} onTap={() => onSignOut(unsent > 0)}>{t().shop.signOut}</AskTwice>;
}

export function ShopScreen(props: ShopProps): JSX.Element {
  const { me, newVersion, onNewVersion, onExport, said } = props;
  const manager = me.member.role === "manager";
  return (
    <div class="place">
      <Bin title={me.shop.name}>
        <dl class="slip key-value">
          <dt>{t().shop.you}</dt><dd>{me.member.name}, {named(me.member.role).toLowerCase()}</dd>
          <dt>{t().shop.thisPhone2}</dt><dd>{me.device.name}</dd>
          <dt>{t().shop.skill}</dt><dd>{t().shop.of4(me.member.skill)}</dd>
          <dt>{t().shop.version}</dt><dd>{t().shop.appAndService(buildWords(APP), me.service && buildWords(me.service))}</dd>
          {me.member.rights.length > 0 && <><dt>{t().shop.youHold}</dt><dd>{me.member.rights.join(", ")}</dd></>}
        </dl>
      </Bin>
      {said && <Notice kind="bad" title={said} />}
      {newVersion && <Notice kind="good" title={t().shop.aNewerVersionIsReady}><Button onTap={onNewVersion}>{t().shop.takeItNow}</Button></Notice>}
      <Sending {...props} />
      {manager && <Members {...props} />}
      <Phones {...props} />
      <ShopLook {...props} />
      <ShopWords {...props} words={props.trade.words} />
      {manager && <ShopLimits shop={me.shop} trade={props.trade} onShop={props.onShop} />}
      {manager && <ShopSharing shop={me.shop} onShop={props.onShop} />}
      {manager && <TunedLine tuning={props.tuning} now={props.now} />}
      {manager ? <ShopHabits shop={me.shop} onShop={props.onShop} onExport={onExport} /> : (
        <Bin title={t().shop.habits}><p class="slip">{me.shop.unit_system === "us" ? t().shop.psiFMiles : t().shop.kpaCKm}; {me.shop.currency}</p></Bin>
      )}
      {manager && <TrailBin members={props.members.value ?? []} titleOf={(id) => (props.stored.some((each) => each.id === id) ? props.caseTitle(id) : null)} onTrail={props.onTrail} />}
      <Leave {...props} />
    </div>
  );
}

