/** A note in own words, and a comeback. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { SpokenArea } from "../ui/dictate";
import { TextField } from "../ui/field";
import { Sheet } from "../ui/sheet";
import { distanceFrom } from "./ask-vehicle";
import { t } from "../texts";

export function NoteSheet({ text, onSave, onDraft, onClose }: { text: string; onSave: (text: string) => void; onDraft: (text: string) => void; onClose: () => void }): JSX.Element {
  const [words, setWords] = useState(text);
  const type = (typed: string): void => {
    setWords(typed);
    onDraft(typed);
  };
  return (
    <Sheet title={t().caseSheets.note} onClose={onClose}>
      <SpokenArea label={t().caseSheets.yourWords} hint={t().caseSheets.noCustomerNamesOrNumbers} rows={8} value={words} onText={type} maxLength={8000} />
      <Button kind="main" wide onTap={() => onSave(words)}>{t().caseSheets.saveTheNote}</Button>
    </Sheet>
  );
}

export interface Comeback {
  complaint: string;
  distance: number | null;
  note: string;
}

export function ReopenSheet({ complaint, onReopen, onDraft, onClose }: { complaint: string; onReopen: (comeback: Comeback) => void; onDraft: (words: string) => void; onClose: () => void }): JSX.Element {
  const [words, setWords] = useState(complaint);
  const [distance, setDistance] = useState("");
  const [note, setNote] = useState("");
  const type = (typed: string): void => {
    setWords(typed);
    onDraft(typed);
  };
  return (
    <Sheet title={t().caseSheets.itCameBack} onClose={onClose}>
      <p>{t().caseSheets.aNewOpenCaseStarts}</p>
      <SpokenArea label={t().caseSheets.whatIsWrongNow} value={words} onText={type} />
      <TextField label={t().caseSheets.odometerNow} mode="decimal" value={distance} onText={setDistance} maxLength={10} />
      <TextField label={t().caseSheets.anythingElse} value={note} onText={setNote} maxLength={400} />
      <Button kind="main" wide disabled={words.trim() === ""} onTap={() => onReopen({ complaint: words.trim(), distance: distanceFrom(distance), note: note.trim() })}>{t().caseSheets.openTheComeback}</Button>
    </Sheet>
  );
}
