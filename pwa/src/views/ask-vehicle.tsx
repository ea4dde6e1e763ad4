/** The car: a recent one in one tap, or its few fields. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { asTyped, numberTyped } from "../model/typed-number";
import { disagreements, readVin, typed, withVin, withVinYear } from "../model/vin";
import { here } from "../model/units";
import { NO_VEHICLE, type Vehicle } from "../wire";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Notice } from "../ui/notice";
import { troubleAt, type Trouble } from "./trouble";
import { vehicleDetail, vehicleWords } from "./words";
import { t } from "../texts";

interface VehicleProps {
  vehicle: Vehicle;
  recent: readonly Vehicle[];
  odometerUnit: "km" | "mi";
  trouble: Trouble | null;
  /** Engines the shop's cars of this kind came with, as the service knows them. */
  engines?: readonly string[];
  now: Date;
  onChange: (vehicle: Vehicle) => void;
  /** The camera that reads a VIN, where one can be had. */
  scanner?: Scanner;
}

export type Scanner = (acts: { onVin: (vin: string) => void; onClose: () => void }) => JSX.Element;

const isNamed = (vehicle: Vehicle): boolean => Boolean(vehicle.year || vehicle.make || vehicle.model);

const yearFrom = (text: string): number | null => (/^\d{4}$/.test(text.trim()) ? Number(text) : null);

/** "141 000", "141,000", "141.000" and "141k" are one distance. */
export function distanceFrom(text: string): number | null {
  const plain = text.trim().toLowerCase();
  const thousand = plain.endsWith("k") ? 1000 : 1;
  const value = numberTyped(plain.replace(/k$/, "").replace(/[\s.,](?=\d{3}(\D|$))/g, ""));
  return value === null || value < 0 ? null : value * thousand;
}

const known = (vehicles: readonly Vehicle[], of: (vehicle: Vehicle) => string): string[] => [...new Set(vehicles.map(of).filter(Boolean))];

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

/** Engines of the cars on this phone of the same make and model, built within four years of this one. */
export function enginesOf(recent: readonly Vehicle[], { make, model, year }: Vehicle): string[] {
  const alike = recent.filter((each) => same(each.model, model) && (!make || same(each.make, make)) && (!year || !each.year || Math.abs(each.year - year) <= 4));
  return model ? known(alike, (each) => each.engine) : [];
}

/** The VIN with what is the matter with it; it is kept only whole. */
function Vin({ vehicle, trouble, now, onChange, scanner }: VehicleProps): JSX.Element {
  const [scanning, setScanning] = useState(false);
  const [text, setText] = useState(vehicle.vin ?? "");
  const read = readVin(text, now);
  const type = (words: string): void => {
    setText(words);
    onChange(withVin(vehicle, readVin(words, now)));
  };
  const take = (vin: string): void => {
    setScanning(false);
    type(vin);
  };
  return (
    <>
      <div class="entry-row">
        <TextField label={t().askVehicle.vin} hint={t().askVehicle.orLeaveItOut} value={text} caps="characters" maxLength={24} onText={type} problem={read.problem || troubleAt(trouble, "vehicle.vin")} />
        {scanner && !scanning && <Button shape="camera" onTap={() => setScanning(true)}>{t().askVehicle.byCamera}</Button>}
      </div>
      {scanner && scanning && scanner({ onVin: take, onClose: () => setScanning(false) })}
    </>
  );
}

/** Where the VIN says other than what was typed, which stays until somebody takes the VIN's year. */
function VinNotice({ vehicle, now, onYear }: { vehicle: Vehicle; now: Date; onYear?: (year: number) => void }): JSX.Element | null {
  const read = readVin(vehicle.vin ?? "", now);
  const said = disagreements(vehicle, now);
  const { year } = read;
  const other = year !== null && year !== vehicle.year;
  const unsure = [read.otherYear && t().askVehicle.onAHeavyTruckOr(read.otherYear), !read.sure && t().askVehicle.aGuessThisNumberNeed].filter(Boolean);
  if (said.length === 0 && !(other && onYear)) return null;
  return (
    <Notice kind="warn" title={said.join("; ") || t().askVehicle.vinSays(year ?? "")}>
      {other && unsure.length > 0 && <p>{unsure.join(" ")}</p>}
      {other && onYear && <Button onTap={() => onYear(year)}>{t().askVehicle.take(year)}</Button>}
    </Notice>
  );
}

function Fields({ vehicle, recent, odometerUnit, trouble, engines, now, onChange, scanner }: VehicleProps): JSX.Element {
  const [yearTyped, setYear] = useState(vehicle.year ? String(vehicle.year) : "");
  // A VIN may have set the year meanwhile.
  const year = yearFrom(yearTyped) === vehicle.year ? yearTyped : String(vehicle.year ?? "");
  const [distance, setDistance] = useState(asTyped(vehicle.odometer && Math.round(here(vehicle.odometer).value)));
  const unit = odometerUnit === "mi" ? "mile" : "km";
  const typedYear = (text: string): void => {
    setYear(text);
    onChange(typed(vehicle, { year: yearFrom(text) }));
  };
  const typedDistance = (text: string): void => {
    setDistance(text);
    const value = distanceFrom(text);
    onChange({ ...vehicle, odometer: value === null ? null : { value, unit } });
  };
  const yearWrong = year.trim() !== "" && yearFrom(year) === null ? t().askVehicle.fourFiguresLike2011 : undefined;
  return (
    <>
      <div class="halves">
        <TextField label={t().askVehicle.year} hint={vehicle.from_vin?.includes("year") ? t().askVehicle.fromTheVin : undefined} mode="numeric" value={year} onText={typedYear} maxLength={4} problem={year.length > 3 ? (yearWrong ?? troubleAt(trouble, "vehicle.year")) : undefined} />
        <TextField label={t().askVehicle.odometer} hint={odometerUnit} mode="decimal" value={distance} onText={typedDistance} maxLength={10}
          problem={distance && distanceFrom(distance) === null ? t().askVehicle.aNumberLike141000 : troubleAt(trouble, "vehicle.odometer")} />
      </div>
      <TextField label={t().askVehicle.make} value={vehicle.make} caps="words" maxLength={60} list={known(recent, (each) => each.make)} hint={vehicle.from_vin?.includes("make") ? t().askVehicle.fromTheVin : undefined} onText={(make) => onChange(typed(vehicle, { make }))} problem={troubleAt(trouble, "vehicle.make")} />
      <TextField label={t().askVehicle.model} value={vehicle.model} caps="words" maxLength={60} list={known(recent, (each) => each.model)} onText={(model) => onChange({ ...vehicle, model })} problem={troubleAt(trouble, "vehicle.model")} />
      <TextField label={t().askVehicle.engine} value={vehicle.engine} caps="none" maxLength={60} placeholder={t().askVehicle.n16Petrol} list={[...new Set([...(engines ?? []), ...enginesOf(recent, vehicle)])]} onText={(engine) => onChange({ ...vehicle, engine })} problem={troubleAt(trouble, "vehicle.engine")} />
      <Vin vehicle={vehicle} recent={recent} odometerUnit={odometerUnit} trouble={trouble} now={now} onChange={onChange} {...(scanner && { scanner })} />
    </>
  );
}

export function VehicleFields(props: VehicleProps): JSX.Element {
  const { vehicle, recent, now, onChange } = props;
  const [open, setOpen] = useState(false);
  return (
    <Bin title={isNamed(vehicle) ? vehicleWords(vehicle) : t().askVehicle.whichCar}>
      {isNamed(vehicle) && vehicleDetail(vehicle) && <p class="strong">{vehicleDetail(vehicle)}</p>}
      {!isNamed(vehicle) && recent.length > 0 && (
        <div class="chips" role="group" aria-label={t().askVehicle.recentCars}>
          {recent.slice(0, 4).map((each) => <button key={vehicleWords(each)} type="button" class="chip" onClick={() => onChange({ ...each, odometer: null })}>{vehicleWords(each)}</button>)}
        </div>
      )}
      <VinNotice vehicle={vehicle} now={now} onYear={(year) => onChange(withVinYear(vehicle, year))} />
      {open ? <Fields {...props} /> : <div class="row"><Button onTap={() => setOpen(true)}>{isNamed(vehicle) ? t().askVehicle.changeTheCar : t().askVehicle.anotherCar}</Button>
        {isNamed(vehicle) && <Button kind="quiet" onTap={() => onChange(NO_VEHICLE)}>{t().askVehicle.noCar}</Button>}</div>}
    </Bin>
  );
}
