/** The car: a recent one in one tap, or its few fields. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { padValue } from "../model/reading";
import { NO_VEHICLE, type Vehicle } from "../wire";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { troubleAt, type Trouble } from "./trouble";
import { vehicleDetail, vehicleWords } from "./words";

export interface VehicleProps {
  vehicle: Vehicle;
  recent: readonly Vehicle[];
  odometerUnit: "km" | "mi";
  trouble: Trouble | null;
  onChange: (vehicle: Vehicle) => void;
}

const isNamed = (vehicle: Vehicle): boolean => Boolean(vehicle.year || vehicle.make || vehicle.model);

const yearFrom = (text: string): number | null => (/^\d{4}$/.test(text.trim()) ? Number(text) : null);

/** "141 000", "141,000" and "141k" are one distance. */
export function distanceFrom(text: string): number | null {
  const plain = text.trim().toLowerCase();
  const thousand = plain.endsWith("k") ? 1000 : 1;
  const value = padValue(plain.replace(/k$/, "").replace(/[\s,](?=\d{3}(\D|$))/g, ""));
  return value === null || value < 0 ? null : value * thousand;
}

const known = (vehicles: readonly Vehicle[], of: (vehicle: Vehicle) => string): string[] => [...new Set(vehicles.map(of).filter(Boolean))];

function Fields({ vehicle, recent, odometerUnit, trouble, onChange }: VehicleProps): JSX.Element {
  const [year, setYear] = useState(vehicle.year ? String(vehicle.year) : "");
  const [distance, setDistance] = useState(vehicle.odometer ? String(vehicle.odometer.value) : "");
  const unit = odometerUnit === "mi" ? "mile" : "km";
  const typedYear = (text: string): void => {
    setYear(text);
    onChange({ ...vehicle, year: yearFrom(text) });
  };
  const typedDistance = (text: string): void => {
    setDistance(text);
    const value = distanceFrom(text);
    onChange({ ...vehicle, odometer: value === null ? null : { value, unit } });
  };
  const yearWrong = year.trim() !== "" && yearFrom(year) === null ? "Four figures, like 2011" : undefined;
  return (
    <>
      <div class="halves">
        <TextField label="Year" mode="numeric" value={year} onText={typedYear} maxLength={4} problem={year.length > 3 ? (yearWrong ?? troubleAt(trouble, "vehicle.year")) : undefined} />
        <TextField label="Odometer" hint={odometerUnit} mode="decimal" value={distance} onText={typedDistance} maxLength={10}
          problem={distance && distanceFrom(distance) === null ? "A number, like 141000" : troubleAt(trouble, "vehicle.odometer")} />
      </div>
      <TextField label="Make" value={vehicle.make} caps="words" maxLength={60} list={known(recent, (each) => each.make)} onText={(make) => onChange({ ...vehicle, make })} problem={troubleAt(trouble, "vehicle.make")} />
      <TextField label="Model" value={vehicle.model} caps="words" maxLength={60} list={known(recent, (each) => each.model)} onText={(model) => onChange({ ...vehicle, model })} problem={troubleAt(trouble, "vehicle.model")} />
      <TextField label="Engine" value={vehicle.engine} caps="none" maxLength={60} placeholder="1.6 petrol" onText={(engine) => onChange({ ...vehicle, engine })} problem={troubleAt(trouble, "vehicle.engine")} />
    </>
  );
}

export function VehicleFields(props: VehicleProps): JSX.Element {
  const { vehicle, recent, onChange } = props;
  const [open, setOpen] = useState(false);
  return (
    <Bin title={isNamed(vehicle) ? vehicleWords(vehicle) : "Which car?"}>
      {isNamed(vehicle) && vehicleDetail(vehicle) && <p class="strong">{vehicleDetail(vehicle)}</p>}
      {!isNamed(vehicle) && recent.length > 0 && (
        <div class="chips" role="group" aria-label="Recent cars">
          {recent.slice(0, 4).map((each) => <button key={vehicleWords(each)} type="button" class="chip" onClick={() => onChange({ ...each, odometer: null })}>{vehicleWords(each)}</button>)}
        </div>
      )}
      {open ? <Fields {...props} /> : <div class="row"><Button onTap={() => setOpen(true)}>{isNamed(vehicle) ? "Change the car" : "Another car"}</Button>
        {isNamed(vehicle) && <Button kind="quiet" onTap={() => onChange(NO_VEHICLE)}>No car</Button>}</div>}
    </Bin>
  );
}
