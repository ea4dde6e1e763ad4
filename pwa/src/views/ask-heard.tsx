/** What the words already say, as proposals to tap; nothing is taken silently. */
import type { JSX } from "preact";

import type { Draft } from "../model/draft";
import { heard } from "../model/words";
import type { AdvisedCar, HeardSymptom, Trade, Vehicle } from "../wire";
import { measured, titleOf } from "./words";
import { t } from "../texts";

export interface HeardChange {
  draft?: Partial<Draft>;
  reading?: { value: number; unit: string; point: string };
}

interface HeardProps {
  draft: Draft;
  trade: Trade;
  now: Date;
  odometerUnit: "km" | "mi";
  symptoms: readonly HeardSymptom[];
  /** The car as the service understands it, with where each part comes from. */
  car?: AdvisedCar | null;
  onHear: (change: HeardChange) => void;
}

interface Proposal {
  key: string;
  words: string;
  change: HeardChange;
}

const CAR_FIELDS = ["year", "make", "model", "engine"] as const;

/** What the words say of the car where nothing else is known; null where they say nothing new. */
export function carHeard(vehicle: Vehicle, car: AdvisedCar | null | undefined): Partial<Vehicle> | null {
  const heardOf = CAR_FIELDS.filter((each) => car?.origins[each] === "words" && !vehicle[each]);
  return car && heardOf.length > 0 ? Object.fromEntries(heardOf.map((each) => [each, car.vehicle[each]])) : null;
}

const carWords = (car: Partial<Vehicle>): string => CAR_FIELDS.map((each) => car[each]).filter(Boolean).join(" ");

/** What is heard and not yet taken. */
function proposals({ draft, trade, now, odometerUnit, symptoms, car }: Omit<HeardProps, "onHear">): Proposal[] {
  const said = heard(draft.complaint, now, odometerUnit);
  const { vehicle } = draft;
  const taken = (value: number): boolean => draft.readings.some((each) => each.value === value);
  const codes = said.codes.filter((each) => !draft.codes.includes(each));
  const named = carHeard(vehicle, car);
  const signs = symptoms.filter((each) => !draft.symptoms.includes(each.symptom)).slice(0, 3);
  return [
    ...codes.map((code) => ({ key: code, words: t().askHeard.code(code), change: { draft: { codes: [...draft.codes, code] } } })),
    ...(named ? [{ key: "car", words: carWords(named), change: { draft: { vehicle: { ...vehicle, ...named } } } }] : []),
    ...(said.year && !vehicle.year && !named?.year ? [{ key: "year", words: t().askHeard.year(said.year), change: { draft: { vehicle: { ...vehicle, year: said.year } } } }] : []),
    ...(said.odometer && !vehicle.odometer ? [{ key: "odometer", words: measured(said.odometer.value, said.odometer.unit), change: { draft: { vehicle: { ...vehicle, odometer: said.odometer } } } }] : []),
    ...said.readings.filter((each) => !taken(each.value)).map((each) => ({ key: each.said, words: t().askHeard.reading(measured(each.value, each.unit)), change: { reading: each } })),
    ...signs.map((each) => ({ key: each.symptom, words: each.title || titleOf(trade.symptoms, each.symptom), change: { draft: { symptoms: [...draft.symptoms, each.symptom] } } })),
  ];
}

export function HeardWords(props: HeardProps): JSX.Element | null {
  const shown = proposals(props);
  if (shown.length === 0) return null;
  return (
    <div class="field" role="group" aria-label={t().askHeard.heardInYourWords}>
      <span class="soft">{t().askHeard.heardInYourWordsTap}</span>
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
