/** Figures, units and states as a technician says them. */
import { numbers } from "../model/intl";
import { here, unitShort } from "../model/units";
import type { CaseBrief, Measure, Trade, Vehicle } from "../wire";
import { locale, t } from "../texts";

export { unitShort, unitWords } from "../model/units";
export { ago, day, dayAndTime, minutes, money, percent, wholeMoney } from "../model/format";

/** At most four figures, no trailing noughts: 12.05, 0.31, 141,000. */
export function figure(value: number): string {
  const size = Math.abs(value);
  const digits = size >= 1000 ? 0 : size >= 100 ? 1 : size >= 1 ? 2 : 3;
  return numbers(locale(), { maximumFractionDigits: digits }).format(value);
}

export const measured = (value: number, unit: string): string => `${figure(value)} ${unitShort(unit)}`.trim();
/** In the unit the shop reads, whatever it was written in. */
export function measuredHere(measure: Measure): string {
  const { value, unit } = here(measure);
  return measured(value, unit);
}
export const odometer = (reading: Measure | null): string => (reading ? measuredHere(reading) : "");

export function vehicleWords(vehicle: Vehicle): string {
  const words = [vehicle.year, vehicle.make, vehicle.model].filter(Boolean).join(" ");
  return words || t().words.vehicleNotGiven;
}

const fromVin = ({ from_vin }: Vehicle): string => (from_vin?.length ? t().words.fromTheVin(from_vin) : "");

export const vehicleDetail = (vehicle: Vehicle): string =>
  [vehicle.engine, vehicle.transmission, odometer(vehicle.odometer), fromVin(vehicle)].filter((word) => word !== "").join(" · ");

const STATES: Readonly<Record<CaseBrief["state"], string>> = { get open() { return t().words.open; }, get closed() { return t().words.closed; }, get unresolved() { return t().words.notSolved; } };
export const stateWords = (state: CaseBrief["state"]): string => STATES[state];

export const headline = (file: Pick<CaseBrief, "title" | "complaint">): string => file.title || file.complaint || t().words.noComplaintWrittenYet;

/** A listed id as readable words, where its title is not on this phone. */
export const idWords = (id: string): string => id.split(".").slice(-2).join(" ").replaceAll("_", " ");

export function titleOf(list: readonly { readonly id: string; readonly title: string }[], id: string | null): string {
  if (!id) return "";
  return list.find((each) => each.id === id)?.title ?? idWords(id);
}

/** The first letter raised; the rest left as it was written. */
export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A word of the service (a result, a source, a role, a verdict) as it is read; one that is not known stays as it came. */
export const named = (word: string): string => (t().named as Readonly<Record<string, string>>)[word] ?? sentence(word.replaceAll("_", " "));

/** A title inside a sentence; "12 V battery" and "A/C" stay as they are. */
export const within = (title: string): string => (/^[A-Z][a-z]/.test(title) ? title.charAt(0).toLowerCase() + title.slice(1) : title);

/** What an outcome means, in the list's own words. */
export function outcomeWords(trade: Trade, test: string, outcome: string): string {
  const known = trade.tests.find((each) => each.id === test)?.outcomes.find((each) => each.id === outcome);
  return sentence(known?.means || outcome.replaceAll("_", " "));
}
