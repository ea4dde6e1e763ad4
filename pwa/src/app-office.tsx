/** The paperwork: closing a case, what keeps failing, the shop. Wired as the other places, loaded after them. */
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { setResult } from "./app-case";
import { adviceOf, changeClosing, closeNow, closing } from "./app-closing";
import * as drafts from "./app-draft";
import * as jobs from "./app-job";
import { wipeKept } from "./app-kept";
import { partsReport } from "./app-parts";
import * as reports from "./app-reports";
import { Missing } from "./app-screens";
import { sheet } from "./app-sheet";
import * as app from "./app-state";
import { isBlank } from "./model/draft";
import { CloseScreen } from "./views/close";
import { FailingScreen } from "./views/failing";
import { ShopScreen } from "./views/shop";
import { headline } from "./views/words";

const { phone } = app;

export function ClosePlace(): JSX.Element {
  const here = jobs.job.value;
  if (here?.kind !== "case") return <Missing />;
  return (
    <CloseScreen
      file={here.it} trade={phone.trade.value} shop={app.shop.value} causes={adviceOf(here.id)?.causes ?? []} form={closing.value} onForm={changeClosing} onClose={(body) => void closeNow(body)}
      onMeasure={(twin) => (sheet.value = { kind: "reading", quantity: twin.quantity, test: null, when: "after", unit: twin.unit, twin })} onResult={(step, change) => void setResult(here.id, step, change)}
    />
  );
}

export function FailingPlace(): JSX.Element {
  useEffect(() => void reports.loadFailing(), []);
  return (
    <FailingScreen manager={phone.me.value?.member.role === "manager"} online={app.online.value} recurrences={reports.recurrences.value} parts={partsReport.value} by={reports.countedBy.value}
      files={phone.cases.value} trade={phone.trade.value} currency={app.currency.value} now={app.now.value} onBy={reports.countBy} onRetry={() => void reports.loadFailing()} />
  );
}

async function leave(discardUnsent: boolean): Promise<void> {
  if (await phone.signOut({ discardUnsent })) wipeKept();
}

/** Never over unsaved words: the question being typed is put away first. */
async function takeNewVersion(): Promise<void> {
  if (!isBlank(drafts.draft.peek())) await drafts.saveDraftNow();
  phone.takeNewVersion();
}

export function ShopPlace(): JSX.Element | null {
  useEffect(() => void reports.loadShop(), []);
  const me = phone.me.value;
  if (!me) return null;
  const titleOf = (id: string): string => headline(phone.cases.value.find((each) => each.id === id) ?? { title: "", complaint: "A case" });
  return (
    <ShopScreen
      me={me} sync={phone.sync.value} outbox={phone.outbox.value} kept={phone.kept.value} newVersion={phone.newVersion.value} now={app.now.value} devices={reports.devices.value} members={reports.members.value}
      invite={reports.invite.value} memberTrouble={reports.memberTrouble.value} said={reports.shopSaid.value} caseTitle={titleOf} onSync={() => void phone.syncNow()} onRetry={(key) => void phone.retry(key)}
      onLetGo={(key) => void phone.letGo(key)} onRevoke={(id) => void reports.revoke(id)} onShop={(change) => void reports.changeShop(change)} onSignOut={(discard) => void leave(discard)}
      onNewVersion={() => void takeNewVersion()} onExport={() => void reports.takeOut()} onReload={() => void reports.loadShop()} onInvite={(member) => void reports.inviteMember(member)}
      onAddMember={(member) => void reports.addMember(member)} onAmendMember={(id, change) => void reports.amendMember(id, change)} onCopy={(link) => void reports.copyLink(link)}
    />
  );
}
