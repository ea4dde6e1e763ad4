/** The paperwork: a case and its closing, the shop. Wired as the other places, loaded after them. */
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import * as cases from "./app-case";
import { adviceOf, changeClosing, closeNow, closing } from "./app-closing";
import { copyText } from "./app-copy-text";
import * as jobs from "./app-job";
import { isText, keptValue, wipeKept } from "./app-kept";
import { chooseLanguage, chosenLanguage } from "./app-language";
import { CONTRASTS, SCHEMES, chooseLook, look } from "./app-look";
import { isManager } from "./app-parts";
import { letGo, trail } from "./app-people";
import { takePhoto } from "./app-photo";
import * as reports from "./app-reports";
import { Missing } from "./app-missing";
import { SharingHere } from "./app-sharing";
import { openReading, sheet } from "./app-sheet";
import { share } from "./app-share";
import * as app from "./app-state";
import { takeNewVersion } from "./app-update";
import { pastOf } from "./model/car-past";
import type { JobStep } from "./model/job";
import { CaseScreen } from "./views/case";
import { caseText } from "./views/case-words";
import { CloseScreen } from "./views/close";
import { PhotoSlip } from "./views/photo-slip";
import { ShopScreen } from "./views/shop";
import { headline } from "./views/words";
import { t } from "./texts";
import { isChoice } from "./texts/choice";

const { phone } = app;

function photoOf(id: string, note: string, photo: string): JSX.Element {
  const get = async (): Promise<Blob | string> => {
    const answer = await phone.photo(id, photo);
    return answer.kind === "ok" ? answer.value : t().app.canBeShownWithSignal;
  };
  return <PhotoSlip note={note} fetchPhoto={get} />;
}

function openRight(step: JobStep): void {
  if (step.kind === "test") sheet.value = { kind: "right test", step: step.step };
  if (step.kind === "reading") sheet.value = { kind: "right reading", step: step.step };
}

export function CasePlace(): JSX.Element {
  const here = jobs.job.value;
  if (here?.kind !== "case") return <Missing />;
  const { id, it } = here;
  return (
    <CaseScreen
      file={it} trade={phone.trade.value} currency={app.currency.value} photo={(photo) => photoOf(id, it.photos.find((each) => each.id === photo)?.note ?? "", photo)} onReading={openReading}
      onPart={() => (sheet.value = { kind: "part", component: "" })} onRepair={() => (sheet.value = { kind: "repair", cause: "" })} onRight={openRight} onPhoto={(file) => void takePhoto(id, file)} onUndo={(step) => void cases.takeBack(id, step)} onResult={(step, change) => void cases.setResult(id, step, change)}
      onNote={() => (sheet.value = { kind: "note", id, text: keptValue(`note.${id}`, isText) ?? it.note })} onEdit={() => (sheet.value = { kind: "edit", id })} onReopen={() => (sheet.value = { kind: "reopen", id })}
      past={pastOf(it, phone.cases.value)} waiting={phone.outbox.value.filter((each) => each.caseId === id)} stored={phone.stored.value} onMine={(key) => void phone.retry(key)} onTheirs={(key) => void phone.giveWay(key)} onDelete={isManager() ? () => void cases.removeCase(id) : null}
      onShare={() => void share({ title: headline(it), text: caseText(it, phone.trade.value), url: `${location.origin}${location.pathname}#/case/${id}` }, t().caseFile.copiedAsText)}
      sharing={<SharingHere id={id} />} onAlike={() => cases.alikeOf(id)} onSettle={cases.settleTwin}
    />
  );
}

export function ClosePlace(): JSX.Element {
  const here = jobs.job.value;
  if (here?.kind !== "case") return <Missing />;
  return (
    <CloseScreen
      file={here.it} trade={phone.trade.value} shop={app.shop.value} causes={adviceOf(here.id)?.causes ?? []} form={closing.value} onForm={changeClosing} onClose={(body) => void closeNow(body)}
      onMeasure={(twin) => (sheet.value = { kind: "reading", quantity: twin.quantity, test: null, when: "after", unit: twin.unit, twin })} onResult={(step, change) => void cases.setResult(here.id, step, change)}
    />
  );
}

async function leave(discardUnsent: boolean): Promise<void> {
  if (await phone.signOut({ discardUnsent })) wipeKept();
}

function changeLook({ scheme, contrast }: { scheme?: string; contrast?: string }): void {
  const wanted = { scheme: SCHEMES.find((each) => each === scheme), contrast: CONTRASTS.find((each) => each === contrast) };
  chooseLook({ ...(wanted.scheme && { scheme: wanted.scheme }), ...(wanted.contrast && { contrast: wanted.contrast }) });
}

async function changeLanguage(value: string): Promise<void> {
  if (isChoice(value) && !(await chooseLanguage(value))) app.say({ text: t().app.thisNeedsSignalTryAgain });
}

export function ShopPlace(): JSX.Element | null {
  useEffect(() => void reports.loadShop(), []);
  const me = phone.me.value;
  if (!me) return null;
  const titleOf = (id: string): string => headline(phone.cases.value.find((each) => each.id === id) ?? { title: "", complaint: t().app.aCase });
  return (
    <ShopScreen
      me={me} sync={phone.sync.value} outbox={phone.outbox.value} stored={phone.stored.value} onMine={(key) => void phone.retry(key)} onTheirs={(key) => void phone.giveWay(key)} kept={phone.kept.value} copy={{ cases: phone.cases.value.length, facts: phone.copyFacts }} newVersion={phone.newVersion.value} now={app.now.value} devices={reports.devices.value} members={reports.members.value}
      invite={reports.invite.value} memberTrouble={reports.memberTrouble.value} said={reports.shopSaid.value} caseTitle={titleOf} onSync={() => void phone.syncNow()} onRetry={(key) => void phone.retry(key)}
      onLetGo={(key) => void phone.letGo(key)} onRevoke={(id) => void reports.revoke(id)} onShop={(change) => void reports.changeShop(change)} onSignOut={(discard) => void leave(discard)}
      onNewVersion={() => void takeNewVersion()} onExport={() => void reports.takeOut()} onReload={() => void reports.loadShop()} onInvite={(member) => void reports.inviteMember(member)}
      onAddMember={(member) => void reports.addMember(member)} onAmendMember={(id, change) => void reports.amendMember(id, change)} onLeave={letGo} onTrail={trail} onCopy={(link) => void copyText(link, t().app.linkCopied)} tuning={reports.tuning.value.value} trade={phone.trade.value}
      {...look.value} language={chosenLanguage.value} onLook={changeLook} onLanguage={(value) => void changeLanguage(value)}
      online={app.online.value} wordTrouble={reports.wordTrouble.value} onAddWord={reports.addWord} onDropWord={(word) => void reports.dropWord(word)}
    />
  );
}
