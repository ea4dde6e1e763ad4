/** What typed or dictated words already say: codes, readings, distance, year. Proposals, never silent. */

import type { Measure } from "../wire";
import { inFigures } from "./spoken";
import { unitName } from "./units";

interface SpokenReading {
  readonly value: number;
  readonly unit: string;
  /** What follows "at" or "on": the test point, or empty. */
  readonly point: string;
  readonly said: string;
}

export interface Heard {
  readonly codes: readonly string[];
  readonly readings: readonly SpokenReading[];
  readonly odometer: Measure | null;
  readonly year: number | null;
}

const CODE = /(?<![\p{L}\p{N}])([PBCU])[\s.-]?([0-3oO])[\s.-]?((?:[\dA-FoO][\s.-]?){2}[\dA-FoO])(?![\p{L}\p{N}])/giu;
const DIGITS: Readonly<Record<string, string>> = {
  zero: "0",
  oh: "0",
  one: "1",
  two: "2",
  three: "3",
  four: "4",
  five: "5",
  six: "6",
  seven: "7",
  eight: "8",
  nine: "9",
};

const SPELLED = new RegExp(
  String.raw`(?<![\p{L}\p{N}])([PBCU])((?:[\s-](?:${Object.keys(DIGITS).join("|")}|\d)){4})(?![\p{L}\p{N}])`,
  "giu",
);

/** The canonical form of one code ("p 0303" is "P0303"); null when it is none. */
export function codeOf(typed: string): string | null {
  const plain = typed.toUpperCase().replace(/[\s.-]/g, "");
  const mended = plain.slice(0, 1) + plain.slice(1).replace(/O/g, "0");
  return /^[PBCU][0-3][0-9A-F]{3}$/.test(mended) ? mended : null;
}

/** A spaced form needs digits: "c 123 abc" and "b 1 add" are words. A close one needs one after its letter, or two. */
function codeLike(said: string): boolean {
  const digits = (said.match(/\d/g) ?? []).length;
  return /\s/.test(said) ? digits >= 3 : digits >= 2 || /^.\d/.test(said);
}

function codesIn(said: string): readonly string[] {
  const plain = [...said.matchAll(CODE)].filter(([all]) => codeLike(all)).map(([all]) => codeOf(all));
  const spelled = [...said.matchAll(SPELLED)].map(([, letter, digits]) =>
    codeOf(
      `${letter}${(digits ?? "")
        .trim()
        .split(/[\s-]+/)
        .map((word) => DIGITS[word.toLowerCase()] ?? word)
        .join("")}`,
    ),
  );
  return [...new Set([...plain, ...spelled])].filter((code) => code !== null);
}

const NUMBER = String.raw`-?\d+(?:[.,]\d+)?`;
/** Units as they are said and typed, the longer before the shorter that begin them. */
const UNITS_SAID = [
  "inches of mercury",
  String.raw`degrees?\s?[cf]`,
  "foot pounds",
  String.raw`ft\.?\s?lbs?`,
  "newton meters",
  "per cent",
  String.raw`in\s?hg`,
  String.raw`kilo?\s?ohms?`,
  String.raw`k\s?ohms?`,
  "milliamps?",
  "millivolts?",
  "kilomet(?:er|re)s?",
  "fahrenheit",
  "celsius",
  "ohms?",
  "amps?",
  "volts?",
  "microns?",
  "miles?",
  "kpa",
  "mpa",
  "psi",
  "mbar",
  "bars?",
  "km/h",
  "kmh",
  "kph",
  "mph",
  "rpm",
  "revs",
  "vdc",
  "mv",
  "kv",
  "ma",
  "mm",
  "nm",
  String.raw`°\s?[cf]`,
  "deg\\s?[cf]",
  // Spanish.
  "milivoltios?",
  "voltios?",
  "miliamperios?",
  "amperios?",
  String.raw`kilo?ohmios?`,
  "ohmios?",
  "bares",
  String.raw`grados(?:\scent[ií]grados)?`,
  "por ciento",
  "revoluciones",
  "vueltas",
  "[ΩωVAFC%]",
];
const UNIT = UNITS_SAID.join("|");
const PLACE = String.raw`[\p{L}][\p{L} ]{2,40}?(?:\s\d{1,3})?`;
const PLACE_ENDS = String.raw`(?=[,.;]|\s+(?:and|but|with|when|while|then|y|pero|con|cuando)\s|$|\s\d)`;
const READING = new RegExp(
  String.raw`(?<![\p{L}\p{N}.,/-])(${NUMBER})\s?(${UNIT})(?![\p{L}\p{N}/])` +
    String.raw`(?:\s+(?:at|on|across|from|en|entre)\s+(?:(?:the|el|la|los|las)\s+)?(${PLACE})${PLACE_ENDS})?`,
  "giu",
);

const number = (typed: string): number => Number(typed.replace(",", "."));

function unitSaid(typed: string): string | null {
  const bare = typed
    .replace(/\s+/g, " ")
    .replace(/^(?:°|deg(?:rees?)?)\s?(?=[cf]$)/i, "")
    .replace(/^ft\.? ?lbs?$/i, "ft lb");
  return unitName(bare.replace(/^kilo? ?ohms?$/i, "kohm"));
}

/** Single letters are units only when written close and large: "12V", "5 A", but not "2 a". */
const loose = (said: string): boolean => /\d\s[a-z]$/.test(said);

function readingsIn(said: string): readonly SpokenReading[] {
  return [...said.matchAll(READING)].flatMap(([all, value = "", typed = "", point = ""]) => {
    const unit = unitSaid(typed);
    const distance = unit === "kilometer" || unit === "mile";
    if (!unit || distance || (typed.length === 1 && loose(`${value} ${typed}`))) return [];
    return [{ value: number(value), unit, point: point.trim(), said: all.trim() }];
  });
}

const DISTANCE = new RegExp(
  String.raw`(?<![\p{L}\p{N}.,])(\d{1,3}(?:[ ,.]\d{3})+|\d+(?:[.,]\d+)?)\s?(k|thousand|tkm)?\s?` +
    String.raw`(kms?|kilomet(?:er|re)s?|mi|miles?)(?![\p{L}\p{N}/])`,
  "iu",
);
const SHORT_DISTANCE = /(?:odo(?:meter)?|mileage|clock)\D{0,12}?(\d{2,3})\s?k(?![\p{L}\p{N}])/iu;

function distanceNumber(typed: string, thousands: string): number {
  const grouped = /^\d{1,3}([ ,.]\d{3})+$/.test(typed);
  const value = grouped ? Number(typed.replace(/[ ,.]/g, "")) : number(typed);
  return thousands ? value * 1000 : value;
}

/** "141k km", "141,000 km", "odo 88k" (in the shop's own unit); a drive of 20 km is no odometer. */
function odometerIn(said: string, unit: "km" | "mi"): Measure | null {
  const [, typed, thousands = "", word = ""] = DISTANCE.exec(said) ?? [];
  if (typed) {
    const value = distanceNumber(typed, thousands);
    if (value >= 1000) return { value, unit: /^m/i.test(word) ? "mi" : "km" };
  }
  const short = SHORT_DISTANCE.exec(said)?.[1];
  return short ? { value: Number(short) * 1000, unit: unit === "mi" ? "mi" : "km" } : null;
}

const UNIT_AFTER = String.raw`\s?(?:rpm|revs|km|k\b|mi|miles|volts?|v\b|ohms?|psi|kpa|°|%|hours?|h\b)`;
const YEAR = new RegExp(
  String.raw`(?<![\p{L}\p{N}.,/-])((?:19[5-9]|20\d)\d)(?![\p{L}\p{N}/]|[.,]\d|${UNIT_AFTER})`,
  "giu",
);

function yearIn(said: string, now: Date): number | null {
  const last = now.getFullYear() + 1;
  const years = [...said.matchAll(YEAR)].map(([, year]) => Number(year)).filter((year) => year <= last);
  return years[0] ?? null;
}

/** Everything the words say; `now` bounds the model year. Nothing said gives empty lists and nulls. */
export const heard = (said: string, now: Date, odometerUnit: "km" | "mi" = "km"): Heard => ({
  codes: codesIn(said),
  readings: readingsIn(inFigures(said)),
  odometer: odometerIn(inFigures(said), odometerUnit),
  year: yearIn(said, now),
});
