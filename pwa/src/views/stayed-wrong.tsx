/** What a half cure left wrong, in words that are found again next time. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import type { PartChange, PartStep } from "../wire";
import { t } from "../texts";

/** A part that cured only partly, without a word on what stayed wrong. */
export const isHalfTold = (step: PartStep): boolean => step.result === "partly" && step.note === "";

export function StayedWrong({ step, onResult }: { step: PartStep; onResult: (step: string, change: PartChange) => void }): JSX.Element {
  const [words, setWords] = useState("");
  return (
    <div class="entry-row">
      <TextField label={t().stayedWrong.whatStayedWrong} hint={t().stayedWrong.foundAgainNextTime} value={words} onText={setWords} maxLength={400} />
      <Button disabled={words.trim() === ""} onTap={() => onResult(step.id, { note: words.trim() })}>{t().stayedWrong.save}</Button>
    </div>
  );
}
