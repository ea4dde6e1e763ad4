/** The job at hand, a question or an open case: asking for advice, and each act on it. */
import { computed, effect, signal } from "@preact/signals";

import { draft, changeDraft, forgetDraft, saveDraftNow } from "./app-draft";
import { isTexts, keep, keptValue } from "./app-kept";
import { go, route } from "./app-route";
import { online, phone, say } from "./app-state";
import { renameClock, stopClock } from "./app-clock";
import { toggled, type Draft } from "./model/draft";
import type { LocalCase } from "./model/local-case";
import type { Asked } from "./phone";
import type { ObjectionBody, PartBody, ReadingBody, RepairBody, SkipBody, TestBody } from "./wire";
import { t } from "./texts";

type Job = { kind: "draft"; id: string; it: Draft } | { kind: "case"; id: string; it: LocalCase };

/** The job of the present place; null where there is none or it is not in the copy yet. */
export const job = computed((): Job | null => {
  const here = route.value;
  if (here.at === "ask") return { kind: "draft", id: draft.value.id, it: draft.value };
  if (here.at === "advice" && here.of === "draft") {
    const wanted = here.id;
    const it = draft.value.id === wanted ? draft.value : phone.drafts.value.find((each) => each.id === wanted);
    return it ? { kind: "draft", id: it.id, it } : null;
  }
  if (here.at !== "case" && here.at !== "close" && here.at !== "advice" && here.at !== "handover") return null;
  const it = phone.cases.value.find((each) => each.id === here.id);
  return it ? { kind: "case", id: it.id, it } : null;
});

export interface Answer {
  job: string;
  asked: Asked | null;
  busy: boolean;
  /** What the answer rests on. */
  grounds?: string;
  /** The service's answer to the same question, held back while the phone's own is in use. */
  fresher?: Asked | null;
  /** The service has since come to the same step as the phone did by itself. */
  backed?: boolean;
}

export const answer = signal<Answer>({ job: "", asked: null, busy: false });
export const chosen = signal<string | null>(null);
const passed = signal<readonly string[]>([]);
export const away = signal<readonly string[]>(keptValue("away", isTexts) ?? []);

let turn = 0;

export async function askNow(): Promise<void> {
  const here = job.peek();
  if (!here) return;
  const mine = ++turn;
  const grounds = groundsOf(here);
  const before = answer.peek();
  answer.value = { ...before, job: here.id, asked: before.job === here.id ? before.asked : null, busy: true };
  const asked = here.kind === "draft" ? await phone.ask(here.it) : await phone.askCase(here.id);
  if (mine !== turn) return;
  const same = before.job === here.id && before.grounds === grounds && asked.kind === "advice";
  const alone = same && before.asked?.kind === "local" && before.asked.advice !== null;
  if (alone && moved(before.asked, asked)) answer.value = { ...before, busy: false, fresher: asked };
  else answer.value = { job: here.id, asked, busy: false, grounds, backed: alone || (same && Boolean(before.backed)) };
}

/** Whether the service's answer would put another step where the phone's own stands. */
function moved(mine: Asked | null, theirs: Asked): boolean {
  if (mine?.kind !== "local" || !mine.advice || theirs.kind !== "advice") return false;
  const [now, then] = [mine.advice.next, theirs.advice.next];
  return now.do !== then.do || now.test !== then.test || now.cause !== then.cause;
}

/** Takes the answer that was held back. */
export function takeFresher(): void {
  const { fresher, ...before } = answer.peek();
  if (fresher) answer.value = { ...before, asked: fresher };
  scrollTo({ top: 0 });
}

/** What an answer rests on; a change of it calls for a new one. */
function groundsOf(here: Job): string {
  const { complaint, vehicle, symptoms, codes, readings, tests, parts, comes_and_goes, shows_when, as_typed } = here.it;
  const steps = tests.map((each) => [each.id, each.test, each.outcome]);
  const said = here.kind === "case" ? [here.it.repairs, here.it.skipped, here.it.objections] : [];
  return JSON.stringify([here.id, complaint, vehicle, symptoms, codes, readings, steps, parts, said, comes_and_goes, shows_when, as_typed]);
}

export function keepAdvising(): void {
  let asked = "";
  effect(() => {
    const here = job.value;
    const wanted = route.value.at === "advice" || route.value.at === "close";
    const grounds = here && wanted ? `${groundsOf(here)} ${online.value}` : "";
    if (grounds === "" || grounds === asked) return;
    asked = grounds;
    void askNow();
  });
}

/** The open case of the job: the first act on a question opens it. */
export async function openedCase(): Promise<string | null> {
  const here = job.peek();
  if (!here) return null;
  if (here.kind === "case") return here.id;
  if (draft.peek().id === here.id) await saveDraftNow();
  const id = await phone.openCase(here.it);
  if (away.peek().includes(here.id)) setAwayOf(id, true);
  renameClock(here.id, id);
  if (draft.peek().id === here.id) forgetDraft();
  answer.value = { ...answer.peek(), job: id };
  if (route.peek().at === "advice") go(`#/advice/case/${id}`, { instead: true });
  return id;
}

let acting: Promise<unknown> = Promise.resolve();

/** One act after the other: a second tap while the first is being saved waits its turn. */
function inTurn(act: (caseId: string) => Promise<void>): Promise<void> {
  const next = acting.then(async () => {
    const id = await openedCase();
    if (id) await act(id);
  });
  acting = next.catch(() => undefined);
  return next;
}

function undo(caseId: string, steps: readonly string[]): () => void {
  return () => {
    say(null);
    void (async () => {
      for (const step of steps) await phone.undoStep(caseId, step);
      say({ text: t().app.takenBack });
    })();
  };
}

export interface TestDone {
  test: string;
  outcome: string;
  words: string;
  part?: string | null;
  reading?: ReadingBody;
}

export const addOutcome = ({ test, outcome, words, part, reading }: TestDone): Promise<void> =>
  inTurn(async (caseId) => {
    const minutes = stopClock(caseId, test);
    const present = !isAway(caseId);
    const body: TestBody = { test, outcome, fault_present: present, ...(minutes !== null && { minutes }), ...(part && { part }) };
    const steps = reading ? [await phone.addReading(caseId, reading)] : [];
    steps.push(await phone.addTest(caseId, body));
    chosen.value = null;
    scrollTo({ top: 0 });
    say({ text: words, action: t().app.undo, onAction: undo(caseId, steps) });
  });

export const addReading = (reading: ReadingBody): Promise<void> =>
  inTurn(async (caseId) => {
    const step = await phone.addReading(caseId, reading);
    say({ text: t().app.readingWrittenDown, action: t().app.undo, onAction: undo(caseId, [step]) });
  });

export const addPart = (part: PartBody): Promise<void> =>
  inTurn(async (caseId) => {
    const step = await phone.addPart(caseId, part);
    say({ text: t().app.partWrittenDown, action: t().app.undo, onAction: undo(caseId, [step]) });
  });

/** A step told by one tap: saved, said, and taken back by the tap beside it. */
const told = (words: string, save: (caseId: string) => Promise<string>): Promise<void> =>
  inTurn(async (caseId) => {
    const step = await save(caseId);
    chosen.value = null;
    scrollTo({ top: 0 });
    say({ text: words, action: t().app.undo, onAction: undo(caseId, [step]) });
  });

export const addRepair = (repair: RepairBody): Promise<void> => told(t().app.repairWrittenDown, (id) => phone.addRepair(id, repair));
export const skipTest = (skip: SkipBody): Promise<void> => told(t().app.leftOut, (id) => phone.skipTest(id, skip));
export const object = (objection: ObjectionBody): Promise<void> => told(t().app.notedYouHoldItTo, (id) => phone.object(id, objection));

/** This word is right as it stands, or not after all: the question is asked again. */
export async function takeAsTyped(word: string, right: boolean): Promise<void> {
  const here = job.peek();
  const others = (here?.it.as_typed ?? []).filter((each) => each !== word);
  const as_typed = right ? [...others, word] : others;
  if (here?.kind === "case") await phone.amendCase(here.id, { as_typed });
  else changeDraft({ as_typed });
}

export async function setShows(shows_when: readonly string[]): Promise<void> {
  const here = job.peek();
  if (here?.kind === "case") await phone.amendCase(here.id, { shows_when });
  else changeDraft({ shows_when });
}

export const isAway = (id: string): boolean => away.value.includes(id);

function setAwayOf(id: string, gone: boolean): void {
  const others = away.peek().filter((each) => each !== id).slice(-50);
  away.value = gone ? [...others, id] : others;
  keep("away", away.value);
}

/** The fault is not there today: later outcomes say so, and the case is known to come and go. */
export async function setAway(gone: boolean): Promise<void> {
  const here = job.peek();
  if (!here) return;
  setAwayOf(here.id, gone);
  if (here.kind === "draft") changeDraft({ comes_and_goes: gone });
  else if (gone && !here.it.comes_and_goes) await phone.amendCase(here.id, { comes_and_goes: true });
}

/** A question answered by a listed symptom; null passes the question over. */
export async function answerQuestion(question: string, symptom: string | null): Promise<void> {
  const here = job.peek();
  if (!here) return;
  if (symptom === null) passed.value = [...passed.peek(), `${here.id} ${question}`];
  else if (here.kind === "draft") changeDraft({ symptoms: toggled(here.it.symptoms, symptom) });
  else await phone.amendCase(here.id, { symptoms: [...here.it.symptoms, symptom] });
  scrollTo({ top: 0 });
}

export const isPassed = (id: string, question: string): boolean => passed.value.includes(`${id} ${question}`);
