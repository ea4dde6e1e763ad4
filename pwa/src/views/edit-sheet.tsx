/** Changing what an open case rests on: the words, the car, the codes. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { codeOf } from "../model/words";
import { Button } from "../ui/button";
import { SpokenArea } from "../ui/dictate";
import { TextField } from "../ui/field";
import { Sheet } from "../ui/sheet";
import type { Vehicle } from "../wire";
import { VehicleFields, type Scanner } from "./ask-vehicle";
import { t } from "../texts";

export interface Edited {
  complaint: string;
  vehicle: Vehicle;
  codes: readonly string[];
}

interface EditSheetProps {
  file: Edited;
  recent: readonly Vehicle[];
  odometerUnit: "km" | "mi";
  now: Date;
  scanner: Scanner;
  /** The words as they were left when the page went away. */
  words: string;
  onDraft: (words: string) => void;
  onSave: (edited: Edited) => void;
  onClose: () => void;
}

const partsOf = (text: string): string[] => text.split(/[\s,;]+/).filter(Boolean);

export function EditSheet({ file, recent, odometerUnit, now, scanner, words, onDraft, onSave, onClose }: EditSheetProps): JSX.Element {
  const [complaint, setComplaint] = useState(words);
  const type = (typed: string): void => {
    setComplaint(typed);
    onDraft(typed);
  };
  const [vehicle, setVehicle] = useState(file.vehicle);
  const [codes, setCodes] = useState(file.codes.join(" "));
  const read = partsOf(codes).map((each) => ({ typed: each, code: codeOf(each) }));
  const wrong = read.find((each) => each.code === null);
  const save = (): void => onSave({ complaint: complaint.trim(), vehicle, codes: read.flatMap((each) => each.code ?? []) });
  return (
    <Sheet title={t().editSheet.changeTheCase} onClose={onClose}>
      <SpokenArea label={t().editSheet.whatIsWrong} value={complaint} onText={type} />
      <VehicleFields vehicle={vehicle} recent={recent} odometerUnit={odometerUnit} trouble={null} now={now} scanner={scanner} onChange={setVehicle} />
      <TextField label={t().editSheet.troubleCodes} hint={t().editSheet.withASpaceBetween} caps="characters" value={codes} onText={setCodes}
        problem={wrong ? t().editSheet.isNotACodeOne(wrong.typed) : undefined} />
      <Button kind="main" wide disabled={complaint.trim() === "" || wrong !== undefined} onTap={save}>{t().editSheet.save}</Button>
    </Sheet>
  );
}
