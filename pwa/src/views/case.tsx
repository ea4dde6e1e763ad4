/** One case: what it is, the steps so far, and what can be added. */
import type { ComponentChildren, JSX } from "preact";

import { afterwards } from "../model/afterwards";
import { fittedIn, stepsOf, type JobStep } from "../model/job";
import type { LocalCase } from "../model/local-case";
import type { Entry } from "../model/outbox";
import { Bin } from "../ui/bin";
import { AskTwice, Button, LinkButton } from "../ui/button";
import { Dock } from "../ui/shell";
import { Empty, Notice } from "../ui/notice";
import { Shape } from "../ui/shape";
import { Tag } from "../ui/tag";
import type { Case, PartChange, Trade } from "../wire";
import { showsWords } from "./away";
import { Afterwards, CarPast } from "./car-past";
import { ClashAsked, clashesIn, type ClashActs } from "./clash";
import { CaseFacts } from "./case-facts";
import { StepSlip } from "./case-step";
import { Twice, type TwiceActs } from "./twice";
import { dayAndTime, headline, sentence, stateWords, vehicleDetail, vehicleWords } from "./words";
import { t } from "../texts";

interface CaseActs {
  onReading: () => void;
  onPart: () => void;
  onPhoto: (file: File) => void;
  onNote: () => void;
  onEdit: () => void;
  onUndo: (step: string) => void;
  onRight: (step: JobStep) => void;
  onRepair: () => void;
  onResult: (step: string, change: PartChange) => void;
  onReopen: () => void;
  onShare: () => void;
  onDelete: (() => void) | null;
}

interface CaseProps extends CaseActs, ClashActs, TwiceActs {
  file: LocalCase;
  trade: Trade;
  currency: string;
  /** What waits of this case, and the cases as the service has them. */
  waiting: readonly Entry[];
  /** Earlier visits of the same car, newest first. */
  past: readonly Case[];
  stored: readonly Case[];
  photo: (photoId: string) => JSX.Element;
  /** What other shops see of it; nothing where this shop takes no part. */
  sharing: JSX.Element | null;
}

function Head({ file }: { file: LocalCase }): JSX.Element {
  return (
    <Tag word={stateWords(file.state)} number={file.unsent > 0 ? t().caseFile.unsent(file.unsent) : t().caseFile.sent} label={t().caseFile.case(headline(file))}>
      <h2 class="tag-what">{headline(file)}</h2>
      <p class="strong">{vehicleWords(file.vehicle)}</p>
      {vehicleDetail(file.vehicle) && <p>{vehicleDetail(file.vehicle)}</p>}
      {(file.vehicle.vin_says?.against.length ?? 0) > 0 && <p class="strong">{file.vehicle.vin_says?.against.join("; ")}</p>}
      {file.title && <p>“{file.complaint}”</p>}
      {file.codes.length > 0 && <p class="number">{file.codes.join("  ")}</p>}
      {(file.comes_and_goes || file.shows_when.length > 0) && <p class="strong">{[file.comes_and_goes && t().caseFile.comesAndGoes, file.shows_when.length > 0 && t().caseFile.showsWhen(showsWords(file.shows_when))].filter(Boolean).map(String).map(sentence).join("; ")}</p>}
    </Tag>
  );
}

function PhotoButton({ onPhoto }: { onPhoto: (file: File) => void }): JSX.Element {
  const take = (input: HTMLInputElement): void => {
    const file = input.files?.[0];
    if (file) onPhoto(file);
    input.value = "";
  };
  return (
    <label class="button photo-take">
      <Shape name="camera" />
      {t().caseFile.photo}
      <input class="spoken" type="file" accept="image/*" capture="environment" onChange={(event) => take(event.currentTarget)} />
    </label>
  );
}

function Steps({ file, trade, currency, photo, onUndo, onRight, onResult }: CaseProps): JSX.Element {
  const steps = stepsOf(file);
  const open = file.state === "open" && !file.joined_into;
  if (steps.length === 0) return <Empty title={t().caseFile.noStepsYet}><p>{t().caseFile.whatYouTapAsAn}</p></Empty>;
  const slip = (each: JobStep): ComponentChildren => (
    <li key={each.step.id}>
      <StepSlip step={each} trade={trade} currency={currency} photo={photo} onUndo={open ? onUndo : null} onRight={open ? onRight : null} onResult={onResult} />
    </li>
  );
  return <ol class="line">{steps.map(slip)}</ol>;
}

function Links({ file }: { file: LocalCase }): JSX.Element | null {
  if (!file.comeback_of && file.returned_as.length === 0) return null;
  return (
    <Notice kind="warn" title={file.comeback_of ? t().caseFile.comebackItWasHereBefore : t().caseFile.itCameBackThisCure}>
      {file.comeback_of && <LinkButton href={`#/case/${file.comeback_of}`}>{t().caseFile.openTheFirstCase}</LinkButton>}
      {file.returned_as.map((each) => <LinkButton key={each} href={`#/case/${each}`}>{t().caseFile.openTheLaterCase}</LinkButton>)}
    </Notice>
  );
}

function AddRow({ onReading, onPart, onRepair, onPhoto, onNote }: CaseActs): JSX.Element {
  return (
    <div class="halves">
      <Button shape="gauge" onTap={onReading}>{t().caseFile.reading}</Button>
      <Button shape="part" onTap={onPart}>{t().caseFile.partTried}</Button>
      <Button shape="tick" onTap={onRepair}>{t().caseFile.repaired}</Button>
      <PhotoButton onPhoto={onPhoto} />
      <Button shape="pen" onTap={onNote}>{t().caseFile.note}</Button>
    </div>
  );
}

/** What did not get to the service: two phones changed one field, or it was refused. */
function NotTaken({ file, trade, waiting, stored, onMine, onTheirs }: CaseProps): JSX.Element {
  const clashing = waiting.filter((each) => clashesIn(each, stored).length > 0);
  return (
    <>
      {clashing.map((each) => <ClashAsked key={each.key} entry={each} stored={stored} trade={trade} onMine={onMine} onTheirs={onTheirs} />)}
      {file.parked > clashing.length && <Notice kind="bad" title={t().caseFile.notTakenByTheService(file.parked - clashing.length)}><LinkButton href="#/shop">{t().caseFile.seeWhy}</LinkButton></Notice>}
    </>
  );
}

function CaseDock({ file }: CaseProps): JSX.Element {
  return (
    <Dock>
      <LinkButton href={`#/close/${file.id}`}>{t().caseFile.close}</LinkButton>
      <LinkButton kind="main" href={`#/advice/case/${file.id}`}>{t().caseFile.nextStep}</LinkButton>
    </Dock>
  );
}

export function CaseScreen(props: CaseProps): JSX.Element {
  const { file, trade, currency, onReopen, onDelete, onNote } = props;
  const open = file.state === "open" && !file.joined_into;
  const ended = file.state !== "open" && !file.joined_into;
  return (
    <>
      <div class={open ? "place with-dock" : "place"}>
        <Head file={file} />
        <NotTaken {...props} />
        <CarPast past={props.past} trade={trade} />
        {open && <Afterwards left={afterwards({ causes: file.repairs.filter((each) => each.result !== "no change").map((each) => each.cause), components: fittedIn(file) }, trade)} />}
        <Links file={file} />
        <Twice file={file} onAlike={props.onAlike} onSettle={props.onSettle} />
        {ended && props.sharing}
        {!open && <CaseFacts file={file} trade={trade} currency={currency} />}
        <Bin title={t().caseFile.stepsSoFar} count={stepsOf(file).length}><Steps {...props} /></Bin>
        {file.note && <Bin title={t().caseFile.note}><p class="slip note-text">{file.note}</p></Bin>}
        {open && <AddRow {...props} />}
        {open && <Button wide onTap={props.onEdit}>{t().caseFile.changeTheWordsCarOr}</Button>}
        {ended && <LinkButton shape="tag" href={`#/handover/${file.id}`}>{t().caseFile.pageForTheCustomer}</LinkButton>}
        <Button wide shape="up" onTap={props.onShare}>{t().caseFile.sendToAColleague}</Button>
        {ended && <Button wide shape="pen" onTap={onNote}>{t().caseFile.changeTheNote}</Button>}
        {ended && <Button wide onTap={onReopen}>{t().caseFile.itCameBackReopen}</Button>}
        <p class="soft small">{t().caseFile.opened(dayAndTime(file.opened))}{file.by && t().caseFile.by(file.by)}{file.closed && t().caseFile.closed(dayAndTime(file.closed))}</p>
        {onDelete && <AskTwice question={t().caseFile.deleteThisCaseOnEvery} sure={t().caseFile.delete} onTap={onDelete}>{t().caseFile.deleteTheCase}</AskTwice>}
      </div>
      {open && <CaseDock {...props} />}
    </>
  );
}
