/** A note in own words, and a comeback. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { TextArea, TextField } from "../ui/field";
import { Sheet } from "../ui/sheet";
import { distanceFrom } from "./ask-vehicle";

export function NoteSheet({ text, onSave, onDraft, onClose }: { text: string; onSave: (text: string) => void; onDraft: (text: string) => void; onClose: () => void }): JSX.Element {
  const [words, setWords] = useState(text);
  const type = (typed: string): void => {
    setWords(typed);
    onDraft(typed);
  };
  return (
    <Sheet title="Note" onClose={onClose}>
      <TextArea label="Your words" hint="no customer names or numbers" rows={8} value={words} onText={type} maxLength={8000} />
      <Button kind="main" wide onTap={() => onSave(words)}>Save the note</Button>
    </Sheet>
  );
}

export interface Comeback {
  complaint: string;
  distance: number | null;
  note: string;
}

export function ReopenSheet({ complaint, onReopen, onClose }: { complaint: string; onReopen: (comeback: Comeback) => void; onClose: () => void }): JSX.Element {
  const [words, setWords] = useState(complaint);
  const [distance, setDistance] = useState("");
  const [note, setNote] = useState("");
  return (
    <Sheet title="It came back" onClose={onClose}>
      <p>A new open case starts, linked to this one. This one no longer counts as a cure.</p>
      <TextArea label="What is wrong now?" value={words} onText={setWords} />
      <TextField label="Odometer now" mode="decimal" value={distance} onText={setDistance} maxLength={10} />
      <TextField label="Anything else" value={note} onText={setNote} maxLength={400} />
      <Button kind="main" wide disabled={words.trim() === ""} onTap={() => onReopen({ complaint: words.trim(), distance: distanceFrom(distance), note: note.trim() })}>Open the comeback</Button>
    </Sheet>
  );
}
