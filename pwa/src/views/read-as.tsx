/** What was typed and what it was read as, each with a tap that takes it back. */
import type { JSX } from "preact";

import { phraseKey } from "../model/own-words";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import type { Advice, OwnWord, Trade } from "../wire";
import { titleOf } from "./words";

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

const SAYS: Readonly<Record<string, string>> = { sense: "is read as", own: "stands for", car: "is taken for the" };

function Taken({ row, onAsTyped }: { row: Row; onAsTyped: (word: string) => void }): JSX.Element {
  return (
    <div class="slip read-as">
      <span><b>{row.typed}</b> {SAYS[row.kind] ?? "was read as"} <b>{row.read}</b></span>
      <Button label={`No, as typed: ${row.typed}`} onTap={() => onAsTyped(row.typed)}>No, as typed</Button>
    </div>
  );
}

function Right({ word, words, onMend, onKeepWord }: { word: string; words: readonly OwnWord[] } & Pick<ReadAsActs, "onMend" | "onKeepWord">): JSX.Element {
  const ours = words.some((each) => each.id === phraseKey(word));
  return (
    <div class="slip read-as">
      <span><b>{word}</b> is taken as typed{ours && <span class="soft"> · Kept as a word of ours</span>}</span>
      <span class="halves">
        {!ours && <Button label={`Keep as our word: ${word}`} onTap={() => onKeepWord(word)}>Keep as our word</Button>}
        <Button kind="quiet" label={`Undo: read ${word} as before`} onTap={() => onMend(word)}>Undo</Button>
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
    <Bin title="How your words were read">
      {rowsOf(rows).map((row) => <Taken key={`${row.typed} ${row.read}`} row={row} onAsTyped={onAsTyped} />)}
      {asTyped.map((word) => <Right key={word} word={word} words={trade.words} onMend={onMend} onKeepWord={onKeepWord} />)}
    </Bin>
  );
}

export function Heard({ advice, trade }: { advice: Advice; trade: Trade }): JSX.Element | null {
  if (advice.symptoms.length === 0) return null;
  return (
    <Bin title="Signs heard in your words">
      {advice.symptoms.map((each) => <p class="slip" key={each.symptom}>{each.title || titleOf(trade.symptoms, each.symptom)}</p>)}
    </Bin>
  );
}
