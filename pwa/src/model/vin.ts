/** A VIN on the phone, without signal: whole or not, and the model year it holds (49 CFR 565.15; ISO 3779). */

import { t } from "../texts";
import type { Vehicle } from "../wire";

const SIGNS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ";
const COUNTS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9];
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
const YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789";
const LENGTH = 17;
const CYCLE = 30;

export interface VinRead {
  vin: string;
  /** What is the matter and what to do; empty for a number that can be. */
  problem: string;
  year: number | null;
  /** The year on a heavy truck or a motorcycle, where it may be another. */
  otherYear: number | null;
  /** Whether the year is read by rules that bind. */
  sure: boolean;
}

/** The check digit that 17 valid signs ask for. */
export function checkDigit(vin: string): string {
  const sum = [...vin].reduce((all, sign, at) => all + (COUNTS[SIGNS.indexOf(sign)] ?? 0) * (WEIGHTS[at] ?? 0), 0);
  return sum % 11 === 10 ? "X" : String(sum % 11);
}

function problemOf(vin: string): string {
  const strange = [...vin].findIndex((sign) => !SIGNS.includes(sign));
  if (strange >= 0) return t().vin.strangeSign(vin[strange] ?? "", strange + 1);
  if (vin.length !== LENGTH) return t().vin.tooShort(vin.length, LENGTH);
  if (/^[1-5]/.test(vin) && vin[8] !== checkDigit(vin)) return t().vin.checkDigit;
  return "";
}

function yearsOf(vin: string, thisYear: number): [number | null, number | null] {
  const code = YEAR_CODES.indexOf(vin[9] ?? "");
  if (code < 0) return [null, null];
  const early = 1980 + code;
  const late = early + CYCLE;
  if (late > thisYear + 1) return [early, null];
  return /[A-Z]/.test(vin[6] ?? "") ? [late, early] : [early, late];
}

/** What was typed as a VIN; blanks, dashes and small letters are fine. */
export function readVin(typed: string, now: Date): VinRead {
  const vin = typed.toUpperCase().replace(/[\s-]/g, "");
  const problem = vin === "" ? "" : problemOf(vin);
  if (vin === "" || problem) return { vin, problem, year: null, otherYear: null, sure: false };
  const [year, otherYear] = yearsOf(vin, now.getFullYear());
  return { vin, problem, year, otherYear, sure: vin[8] === checkDigit(vin) };
}

const unmarked = (vehicle: Vehicle, ...fields: ("year" | "make")[]): Vehicle["from_vin"] =>
  (vehicle.from_vin ?? []).filter((each) => !fields.some((field) => field === each));

/** The vehicle with a typed field, which then is no longer from the VIN. */
export const typed = (vehicle: Vehicle, change: Partial<Vehicle>): Vehicle => ({
  ...vehicle,
  ...change,
  from_vin: unmarked(vehicle, ...("year" in change ? (["year"] as const) : []), ...("make" in change ? (["make"] as const) : [])),
});

/** The vehicle with another VIN: what the old one filled in goes, and an empty year is filled and marked. */
export function withVin(vehicle: Vehicle, read: VinRead): Vehicle {
  const vin = read.vin && !read.problem ? read.vin : null;
  if (vin === vehicle.vin) return vehicle;
  const marks = vehicle.from_vin ?? [];
  const bare: Vehicle = {
    ...vehicle,
    vin,
    year: marks.includes("year") ? null : vehicle.year,
    make: marks.includes("make") ? "" : vehicle.make,
    from_vin: [],
    vin_says: null,
  };
  return bare.year === null && read.sure && read.year !== null ? withVinYear(bare, read.year) : bare;
}

/** The vehicle with the year its VIN says. */
export const withVinYear = (vehicle: Vehicle, year: number): Vehicle => ({ ...vehicle, year, from_vin: [...unmarked(vehicle, "year"), "year"] });

/** How the VIN disagrees with what was typed: its year by this phone, its maker as the service said. */
export function disagreements(vehicle: Vehicle, now: Date): readonly string[] {
  const read = readVin(vehicle.vin ?? "", now);
  const year = read.year !== null && vehicle.year !== null && read.year !== vehicle.year ? [t().vin.otherYear(read.year, vehicle.year)] : [];
  const maker = (vehicle.vin_says?.against ?? []).filter((each) => each.includes("maker") && each.endsWith(` ${vehicle.make}`));
  return [...year, ...maker];
}

/** The vehicle as it is sent: what a VIN says is worked out there anew. */
export function sentVehicle({ vin_says: _, ...rest }: Vehicle): Omit<Vehicle, "vin_says"> {
  return rest;
}
