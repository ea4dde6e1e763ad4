/** What the words already say, as proposals to tap; nothing is taken silently. */
import type { JSX } from "preact";

import type { Draft } from "../model/draft";
import { heard } from "../model/words";
import type { HeardSymptom, Trade } from "../wire";
import { measured, titleOf } from "./words";

export interface HeardChange {
  draft?: Partial<Draft>;
  reading?: { value: number; unit: string; point: string };
}

export interface HeardProps {
  draft: Draft;
  trade: Trade;
  now: Date;
  odometerUnit: "km" | "mi";
  symptoms: readonly HeardSymptom[];
  onHear: (change: HeardChange) => void;
}

interface Proposal {
  key: string;
  words: string;
  change: HeardChange;
}

/** What is heard and not yet taken. */
export function proposals({ draft, trade, now, odometerUnit, symptoms }: Omit<HeardProps, "onHear">): Proposal[] {
  const said = heard(draft.complaint, now, odometerUnit);
  const { vehicle } = draft;
  const taken = (value: number): boolean => draft.readings.some((each) => each.value === value);
  const codes = said.codes.filter((each) => !draft.codes.includes(each));
  const signs = symptoms.filter((each) => !draft.symptoms.includes(each.symptom)).slice(0, 3);
  return [
    ...codes.map((code) => ({ key: code, words: `Code ${code}`, change: { draft: { codes: [...draft.codes, code] } } })),
    ...(said.year && !vehicle.year ? [{ key: "year", words: `Year ${said.year}`, change: { draft: { vehicle: { ...vehicle, year: said.year } } } }] : []),
    ...(said.odometer && !vehicle.odometer ? [{ key: "odometer", words: measured(said.odometer.value, said.odometer.unit), change: { draft: { vehicle: { ...vehicle, odometer: said.odometer } } } }] : []),
    ...said.readings.filter((each) => !taken(each.value)).map((each) => ({ key: each.said, words: `Reading ${measured(each.value, each.unit)}`, change: { reading: each } })),
    ...signs.map((each) => ({ key: each.symptom, words: each.title || titleOf(trade.symptoms, each.symptom), change: { draft: { symptoms: [...draft.symptoms, each.symptom] } } })),
  ];
}

export function HeardWords(props: HeardProps): JSX.Element | null {
  const shown = proposals(props);
  if (shown.length === 0) return null;
  return (
    <div class="field" role="group" aria-label="Heard in your words">
      <span class="soft">Heard in your words. Tap what is right:</span>
      <div class="chips">
        {shown.map((each) => (
          <button key={each.key} type="button" class="chip heard" onClick={() => props.onHear(each.change)}>
            <span aria-hidden="true">+</span> {each.words}
          </button>
        ))}
      </div>
    </div>
  );
}
