/** The units a shop reads, with short names and exact conversions inside one dimension. */

import { t, unitSystem } from "../texts";
import type { Measure } from "../wire";

interface Unit {
  readonly short: string;
  /** Same word, same dimension. */
  readonly of: string;
  /** value * by + plus is in the dimension's base unit. */
  readonly by: number;
  readonly plus?: number;
  /** A difference, which shares its sign with the thing itself. */
  readonly apart?: true;
}

const UNITS: Readonly<Record<string, Unit>> = {
  volt: { short: "V", of: "volt", by: 1 },
  millivolt: { short: "mV", of: "volt", by: 1e-3 },
  kilovolt: { short: "kV", of: "volt", by: 1e3 },
  ampere: { short: "A", of: "ampere", by: 1 },
  milliampere: { short: "mA", of: "ampere", by: 1e-3 },
  ohm: { short: "Ω", of: "ohm", by: 1 },
  milliohm: { short: "mΩ", of: "ohm", by: 1e-3 },
  kiloohm: { short: "kΩ", of: "ohm", by: 1e3 },
  megaohm: { short: "MΩ", of: "ohm", by: 1e6 },
  "ohm/volt": { short: "Ω/V", of: "ohm/volt", by: 1 },
  "kiloohm/volt": { short: "kΩ/V", of: "ohm/volt", by: 1e3 },
  pascal: { short: "Pa", of: "pascal", by: 1 },
  kilopascal: { short: "kPa", of: "pascal", by: 1e3 },
  megapascal: { short: "MPa", of: "pascal", by: 1e6 },
  millibar: { short: "mbar", of: "pascal", by: 100 },
  bar: { short: "bar", of: "pascal", by: 1e5 },
  psi: { short: "psi", of: "pascal", by: 6894.757293168361 },
  inch_Hg: { short: "inHg", of: "pascal", by: 3386.38864034 },
  inch_H2O: { short: "inH2O", of: "pascal", by: 249.08891 },
  micrometer_Hg: { short: "micron", of: "pascal", by: 0.133322387415 },
  degC: { short: "°C", of: "temperature", by: 1 },
  degF: { short: "°F", of: "temperature", by: 5 / 9, plus: -160 / 9 },
  kelvin: { short: "K", of: "temperature", by: 1, plus: -273.15 },
  delta_degC: { short: "°C", apart: true, of: "difference", by: 1 },
  delta_degF: { short: "°F", apart: true, of: "difference", by: 5 / 9 },
  micrometer: { short: "µm", of: "meter", by: 1e-6 },
  millimeter: { short: "mm", of: "meter", by: 1e-3 },
  centimeter: { short: "cm", of: "meter", by: 1e-2 },
  meter: { short: "m", of: "meter", by: 1 },
  kilometer: { short: "km", of: "meter", by: 1e3 },
  inch: { short: "in", of: "meter", by: 0.0254 },
  foot: { short: "ft", of: "meter", by: 0.3048 },
  mile: { short: "mi", of: "meter", by: 1609.344 },
  "kilometer/hour": { short: "km/h", of: "speed", by: 1 },
  "mile/hour": { short: "mph", of: "speed", by: 1.609344 },
  gram: { short: "g", of: "gram", by: 1 },
  kilogram: { short: "kg", of: "gram", by: 1e3 },
  ounce: { short: "oz", of: "gram", by: 28.349523125 },
  pound: { short: "lb", of: "gram", by: 453.59237 },
  "gram/second": { short: "g/s", of: "flow", by: 1 },
  "kilogram/hour": { short: "kg/h", of: "flow", by: 1000 / 3600 },
  "pound/minute": { short: "lb/min", of: "flow", by: 453.59237 / 60 },
  "newton*meter": { short: "Nm", of: "torque", by: 1 },
  "force_pound*foot": { short: "lb ft", of: "torque", by: 1.3558179483314004 },
  second: { short: "s", of: "second", by: 1 },
  minute: { short: "min", of: "second", by: 60 },
  hour: { short: "h", of: "second", by: 3600 },
  liter: { short: "L", of: "liter", by: 1 },
  percent: { short: "%", of: "percent", by: 1 },
  rpm: { short: "rpm", of: "rpm", by: 1 },
  degree: { short: "°", of: "degree", by: 1 },
  count: { short: "", of: "count", by: 1 },
};

const ALSO: ReadonlyMap<string, string> = new Map(
  Object.entries(UNITS).flatMap(([name, unit]) => (unit.short && !unit.apart ? [[unit.short, name] as const] : [])),
);
/** Spoken and written forms; lower case. Case-bound ones (mV against MV) are found by ALSO first. */
const SPOKEN: Readonly<Record<string, string>> = {
  v: "volt",
  volts: "volt",
  vdc: "volt",
  millivolts: "millivolt",
  mv: "millivolt",
  kv: "kilovolt",
  a: "ampere",
  amp: "ampere",
  amps: "ampere",
  amperes: "ampere",
  milliamp: "milliampere",
  milliamps: "milliampere",
  ma: "milliampere",
  ohms: "ohm",
  ω: "ohm",
  kohm: "kiloohm",
  kohms: "kiloohm",
  "k ohm": "kiloohm",
  kilohm: "kiloohm",
  kilohms: "kiloohm",
  mohm: "megaohm",
  kpa: "kilopascal",
  mpa: "megapascal",
  pa: "pascal",
  mbar: "millibar",
  bars: "bar",
  pounds: "psi",
  inhg: "inch_Hg",
  "in hg": "inch_Hg",
  "inches of mercury": "inch_Hg",
  '"hg': "inch_Hg",
  inh2o: "inch_H2O",
  microns: "micrometer_Hg",
  c: "degC",
  celsius: "degC",
  degc: "degC",
  "degrees c": "degC",
  f: "degF",
  fahrenheit: "degF",
  degf: "degF",
  "degrees f": "degF",
  millimeters: "millimeter",
  millimetres: "millimeter",
  millimetre: "millimeter",
  thou: "inch",
  inches: "inch",
  kilometers: "kilometer",
  kilometres: "kilometer",
  kms: "kilometer",
  km: "kilometer",
  miles: "mile",
  kmh: "kilometer/hour",
  kph: "kilometer/hour",
  grams: "gram",
  kilos: "kilogram",
  ounces: "ounce",
  nm: "newton*meter",
  "newton meters": "newton*meter",
  "ft lb": "force_pound*foot",
  "foot pounds": "force_pound*foot",
  percents: "percent",
  "per cent": "percent",
  revs: "rpm",
  "r/min": "rpm",
  degrees: "degree",
  deg: "degree",
  sec: "second",
  secs: "second",
  seconds: "second",
  mins: "minute",
  minutes: "minute",
  hours: "hour",
  hrs: "hour",
  litre: "liter",
  litres: "liter",
  liters: "liter",
  l: "liter",
  voltio: "volt",
  voltios: "volt",
  milivoltio: "millivolt",
  milivoltios: "millivolt",
  amperio: "ampere",
  amperios: "ampere",
  miliamperio: "milliampere",
  miliamperios: "milliampere",
  ohmio: "ohm",
  ohmios: "ohm",
  kilohmio: "kiloohm",
  kilohmios: "kiloohm",
  kiloohmio: "kiloohm",
  kiloohmios: "kiloohm",
  bares: "bar",
  grados: "degC",
  "grados centígrados": "degC",
  "grados centigrados": "degC",
  "por ciento": "percent",
  revoluciones: "rpm",
  vueltas: "rpm",
};

/** The listed name of a unit as typed, short or spoken; null when not known. */
export function unitName(typed: string): string | null {
  const trimmed = typed.trim();
  if (trimmed in UNITS) return trimmed;
  const folded = trimmed.toLowerCase();
  return ALSO.get(trimmed) ?? SPOKEN[folded] ?? (folded in UNITS ? folded : null);
}

/** The short form beside a figure ("kPa"); an unknown unit is shown as it came. */
export function unitShort(unit: string): string {
  const name = unitName(unit) ?? "";
  return name === "micrometer_Hg" ? t().units.micron : (UNITS[name]?.short ?? unit);
}

/** A unit by itself, as on a button, where a count and a difference must say what they are. */
export function unitWords(unit: string): string {
  const short = unitShort(unit);
  if (UNITS[unitName(unit) ?? ""]?.apart) return t().units.apart(short);
  return short || t().units.times;
}

/** What is read in the one kind of shop, and what in the other instead. */
const OTHERWISE: readonly (readonly [si: string, us: string])[] = [
  ["degC", "degF"],
  ["delta_degC", "delta_degF"],
  ["kilopascal", "psi"],
  ["kilometer", "mile"],
  ["kilometer/hour", "mile/hour"],
  ["meter", "foot"],
  ["gram", "ounce"],
];

/** The unit this shop reads instead of `unit`; the same where it reads no other. */
export function unitHere(unit: string): string {
  const name = unitName(unit);
  const us = unitSystem() === "us";
  const pair = OTHERWISE.find(([si, other]) => (us ? si : other) === name);
  return pair?.[us ? 1 : 0] ?? unit;
}

/** A measure in the unit this shop reads, to four figures where it had to be turned into it. */
export function here({ value, unit }: Measure): Measure {
  const mine = unitHere(unit);
  const turned = mine === unit ? null : convert(value, unit, mine);
  return turned === null ? { value, unit } : { value: Number(turned.toPrecision(value >= 10_000 ? 6 : 4)), unit: mine };
}

/** `value` in unit `to`; null when the two are not of one dimension or not known. */
export function convert(value: number, from: string, to: string): number | null {
  if (from === to) return value;
  const [source, target] = [UNITS[unitName(from) ?? ""], UNITS[unitName(to) ?? ""]];
  if (!source || !target || source.of !== target.of) return null;
  if (source === target) return value;
  return (value * source.by + (source.plus ?? 0) - (target.plus ?? 0)) / target.by;
}
