/** What was typed and what it was read as, each with a tap that takes it back. */
import type { JSX } from "preact";

import { phraseKey } from "../model/own-words";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Advice, OwnWord, Trade } from "../wire";
import { titleOf } from "./words";
import { t } from "../texts";

export interface ReadAsActs {
  /** Words of this job that are right as typed. */
  asTyped: readonly string[];
  onAsTyped: (word: string) => void;
  /** The word is to be mended again. */
  onMend: (word: string) => void;
  onKeepWord: (word: string) => void;
}

interface Row {
  typed: string;
  read: string;
  kind: string;
}

const SAYS: Readonly<Record<string, string>> = { get translated() { return t().readAs.means; }, get sense() { return t().readAs.isReadAs; }, get own() { return t().readAs.standsFor; }, get car() { return t().readAs.isTakenForThe; } };

function Taken({ row, onAsTyped }: { row: Row; onAsTyped: (word: string) => void }): JSX.Element {
  return (
    <div class="slip read-as">
      <span><b>{row.typed}</b> {SAYS[row.kind] ?? t().readAs.wasReadAs} <b>{row.read}</b></span>
      <Button label={t().readAs.noAsTyped(row.typed)} onTap={() => onAsTyped(row.typed)}>{t().readAs.noAsTyped2}</Button>
    </div>
  );
}

function Right({ word, words, onMend, onKeepWord }: { word: string; words: readonly OwnWord[] } & Pick<ReadAsActs, "onMend" | "onKeepWord">): JSX.Element {
  const ours = words.some((each) => each.id === phraseKey(word));
  return (
    <div class="slip read-as">
      <span><b>{word}</b> {t().readAs.isTakenAsTyped}{ours && <span class="soft"> {t().readAs.keptAsAWordOf}</span>}</span>
      <span class="halves">
        {!ours && <Button label={t().readAs.keepAsOurWord(word)} onTap={() => onKeepWord(word)}>{t().readAs.keepAsOurWord2}</Button>}
        <Button kind="quiet" label={t().readAs.undoReadAsBefore(word)} onTap={() => onMend(word)}>{t().readAs.undo}</Button>
      </span>
    </div>
  );
}

/** One row for each word, however often it was typed. */
export const rowsOf = (rows: readonly Row[]): readonly Row[] =>
  rows.filter((row, place) => rows.findIndex((each) => each.typed === row.typed && each.read === row.read) === place);

export function ReadAs({ rows, trade, asTyped, onAsTyped, onMend, onKeepWord }: ReadAsActs & { rows: readonly Row[]; trade: Trade }): JSX.Element | null {
  if (rows.length === 0 && asTyped.length === 0) return null;
  return (
    <Bin title={t().readAs.howYourWordsWereRead}>
      {rowsOf(rows).map((row) => <Taken key={`${row.typed} ${row.read}`} row={row} onAsTyped={onAsTyped} />)}
      {asTyped.map((word) => <Right key={word} word={word} words={trade.words} onMend={onMend} onKeepWord={onKeepWord} />)}
    </Bin>
  );
}

export function Heard({ advice, trade }: { advice: Advice; trade: Trade }): JSX.Element | null {
  if (advice.symptoms.length === 0) return null;
  return (
    <Bin title={t().readAs.signsHeardInYourWords}>
      {advice.symptoms.map((each) => <p class="slip" key={each.symptom}>{each.title || titleOf(trade.symptoms, each.symptom)}</p>)}
    </Bin>
  );
}
