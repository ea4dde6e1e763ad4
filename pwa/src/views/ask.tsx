/** Asking: the complaint in the customer's words first, all else when it helps. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { canAsk, isBlank, toggled, type Draft } from "../model/draft";
import type { LocalCase } from "../model/local-case";
import { codeOf } from "../model/words";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { DropChips } from "../ui/chips";
import { SpokenArea } from "../ui/dictate";
import { TextField } from "../ui/field";
import { Dock } from "../ui/shell";
import type { AdvisedCar, HeardSymptom, Trade, Vehicle } from "../wire";
import { CallQuestions, type CallProps } from "./ask-call";
import { Away } from "./away";
import { HeardWords, type HeardChange } from "./ask-heard";
import { VehicleFields, type Scanner } from "./ask-vehicle";
import { TroubleNotice, troubleAt, type Trouble } from "./trouble";
import { ago, headline, measured, titleOf, vehicleWords } from "./words";
import { t } from "../texts";

interface AskProps extends CallProps {
  openJobs: readonly LocalCase[];
  draft: Draft;
  others: readonly Draft[];
  trade: Trade;
  now: Date;
  recent: readonly Vehicle[];
  odometerUnit: "km" | "mi";
  heard: readonly HeardSymptom[];
  car: AdvisedCar | null;
  trouble: Trouble | null;
  scanner: Scanner;
  onChange: (change: Partial<Draft>) => void;
  onReading: (spoken?: { value: number; unit: string; point: string }) => void;
  onAsk: () => void;
  onNew: () => void;
  onTake: (draft: string) => void;
  onDrop: (draft: string) => void;
}

function Codes({ draft, trouble, onChange }: AskProps): JSX.Element {
  const [typed, setTyped] = useState("");
  const code = codeOf(typed);
  const wrong = typed.replace(/[\s.-]/g, "").length >= 5 && code === null;
  const add = (): void => {
    if (!code) return;
    onChange({ codes: [...new Set([...draft.codes, code])] });
    setTyped("");
  };
  return (
    <Bin title={t().ask.troubleCodes} count={draft.codes.length}>
      <DropChips label={t().ask.codes} items={draft.codes.map((each) => ({ value: each, label: each }))} onDrop={(each) => onChange({ codes: toggled(draft.codes, each) })} />
      <div class="entry-row">
        <TextField label={t().ask.addACode} value={typed} onText={setTyped} caps="characters" maxLength={12} placeholder={t().ask.p0303}
          problem={wrong ? t().ask.isNotACodeOne(typed) : troubleAt(trouble, "codes")} />
        <Button onTap={add} disabled={code === null}>{t().ask.add}</Button>
      </div>
    </Bin>
  );
}

function Readings({ draft, trade, trouble, onChange, onReading }: AskProps): JSX.Element {
  const drop = (place: string): void => onChange({ readings: draft.readings.filter((_, index) => String(index) !== place) });
  const items = draft.readings.map((each, index) => ({ value: String(index), label: `${titleOf(trade.quantities, each.quantity)}: ${measured(each.value, each.unit)}` }));
  return (
    <Bin title={t().ask.readings} count={draft.readings.length}>
      <DropChips label={t().ask.readings} items={items} onDrop={drop} />
      {troubleAt(trouble, "readings") && <p class="problem" role="alert">{troubleAt(trouble, "readings")}</p>}
      <Button shape="gauge" onTap={() => onReading()}>{t().ask.addAReading}</Button>
    </Bin>
  );
}

function OpenJobs({ openJobs, draft }: AskProps): JSX.Element | null {
  if (openJobs.length === 0 || !isBlank(draft)) return null;
  return (
    <Bin title={t().ask.goOnWith} count={openJobs.length}>
      {openJobs.slice(0, 3).map((each) => (
        <a class="slip" key={each.id} href={`#/advice/case/${each.id}`}>
          <span class="slip-title">{headline(each)}</span>
          <span class="soft">{vehicleWords(each.vehicle)}</span>
        </a>
      ))}
    </Bin>
  );
}

function Drafts({ others, now, onTake, onDrop }: AskProps): JSX.Element | null {
  if (others.length === 0) return null;
  return (
    <Bin title={t().ask.notAskedYet} count={others.length}>
      {others.map((each) => (
        <div class="entry-row" key={each.id}>
          <button type="button" class="slip" onClick={() => onTake(each.id)}>
            <span class="slip-title">{each.complaint || t().ask.noWordsYet}</span>
            <span class="soft">{vehicleWords(each.vehicle)} · {ago(each.changed, now)}</span>
          </button>
          <Button kind="danger" label={t().ask.throwAway(each.complaint || t().ask.noWordsYet2)} onTap={() => onDrop(each.id)}>×</Button>
        </div>
      ))}
    </Bin>
  );
}

/** The typed car with what the service read of the same VIN. */
const withSaid = (vehicle: Vehicle, car: AdvisedCar | null): Vehicle =>
  car && vehicle.vin && car.vehicle.vin === vehicle.vin ? { ...vehicle, vin_says: car.vehicle.vin_says } : vehicle;

export function AskScreen(props: AskProps): JSX.Element {
  const { draft, trouble, trade, onChange, onAsk, onNew } = props;
  const ready = canAsk(draft);
  const hear = (change: HeardChange): void => (change.reading ? props.onReading(change.reading) : onChange(change.draft ?? {}));
  return (
    <>
      <div class="place with-dock">
        {trouble && <TroubleNotice trouble={trouble} />}
        <SpokenArea label={t().ask.whatIsWrong} hint={t().ask.asTheCustomerSaidIt} value={draft.complaint} onText={(complaint) => onChange({ complaint })}
          rows={3} placeholder={t().ask.coldAtFirstThenWarm} problem={troubleAt(trouble, "complaint")} />
        <CallQuestions {...props} />
        <HeardWords draft={draft} trade={trade} now={props.now} odometerUnit={props.odometerUnit} car={props.car} symptoms={props.heard} onHear={hear} />
        <DropChips label={t().ask.signs} items={draft.symptoms.map((each) => ({ value: each, label: titleOf(trade.symptoms, each) }))} onDrop={(each) => onChange({ symptoms: toggled(draft.symptoms, each) })} />
        <OpenJobs {...props} />
        <VehicleFields vehicle={withSaid(draft.vehicle, props.car)} recent={props.recent} odometerUnit={props.odometerUnit} trouble={trouble} engines={props.car?.engines} now={props.now} scanner={props.scanner} onChange={(vehicle) => onChange({ vehicle })} />
        <Codes {...props} />
        <Readings {...props} />
        <Away away={draft.comes_and_goes} shows={draft.shows_when} onAway={(comes_and_goes) => onChange({ comes_and_goes })} onShows={(shows_when) => onChange({ shows_when })} />
        <Drafts {...props} />
      </div>
      <Dock>
        <Button kind="main" disabled={!ready} onTap={onAsk}>{ready ? t().ask.askTheMemory : t().ask.sayWhatIsWrong}</Button>
        {ready && <Button onTap={onNew} label={t().ask.newQuestionThisOneIs}>{t().ask.new}</Button>}
      </Dock>
    </>
  );
}
