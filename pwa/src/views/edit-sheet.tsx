/** Changing what an open case rests on: the words, the car, the codes. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { codeOf } from "../model/words";
import { Button } from "../ui/button";
import { TextArea, TextField } from "../ui/field";
import { Sheet } from "../ui/sheet";
import type { Vehicle } from "../wire";
import { VehicleFields } from "./ask-vehicle";

export interface Edited {
  complaint: string;
  vehicle: Vehicle;
  codes: readonly string[];
}

export interface EditSheetProps {
  file: Edited;
  recent: readonly Vehicle[];
  odometerUnit: "km" | "mi";
  now: Date;
  onSave: (edited: Edited) => void;
  onClose: () => void;
}

const partsOf = (text: string): string[] => text.split(/[\s,;]+/).filter(Boolean);

export function EditSheet({ file, recent, odometerUnit, now, onSave, onClose }: EditSheetProps): JSX.Element {
  const [complaint, setComplaint] = useState(file.complaint);
  const [vehicle, setVehicle] = useState(file.vehicle);
  const [codes, setCodes] = useState(file.codes.join(" "));
  const read = partsOf(codes).map((each) => ({ typed: each, code: codeOf(each) }));
  const wrong = read.find((each) => each.code === null);
  const save = (): void => onSave({ complaint: complaint.trim(), vehicle, codes: read.flatMap((each) => each.code ?? []) });
  return (
    <Sheet title="Change the case" onClose={onClose}>
      <TextArea label="What is wrong?" value={complaint} onText={setComplaint} />
      <VehicleFields vehicle={vehicle} recent={recent} odometerUnit={odometerUnit} trouble={null} now={now} onChange={setVehicle} />
      <TextField label="Trouble codes" hint="with a space between" caps="characters" value={codes} onText={setCodes}
        problem={wrong ? `${wrong.typed} is not a code. One letter P, B, C or U, then four places, like P0303.` : undefined} />
      <Button kind="main" wide disabled={complaint.trim() === "" || wrong !== undefined} onTap={save}>Save</Button>
    </Sheet>
  );
}
