/** English: words of the service and of the model, figures, and what goes wrong between them. */
import type { Shown } from "../shown";

export const named = {
  "not known yet": "Not known yet",
  cured: "Cured",
  partly: "Partly",
  "no change": "No change",
  "failed later": "Failed later",
  maker: "Maker",
  aftermarket: "Aftermarket",
  rebuilt: "Rebuilt",
  used: "Used",
  "own stock": "Own stock",
  "no fault found": "No fault found",
  declined: "Declined",
  referred: "Referred",
  technician: "Technician",
  manager: "Manager",
  low: "Low",
  ok: "Ok",
  high: "High",
  none: "None",
  open: "Open",
  short: "Short",
  weak: "Weak",
  worn: "Worn",
  bad: "Bad",
  good: "Good",
  empty: "Empty",
  flat: "Flat",
  marginal: "Marginal",
  replace: "Replace",
  soon: "Soon",
  steady: "Steady",
  even: "Even",
  uneven: "Uneven",
  restricted: "Restricted",
  vacuum: "Vacuum",
  pressure: "Pressure",
  wide: "Wide",
  tight: "Tight",
};

export const shows = {
  cold: "Cold, just started",
  hot: "Hot, after a drive",
  cold_day: "Cold day or frost",
  hot_day: "Hot day or sun",
  rain: "Rain, wash or damp",
  standing: "After standing for hours",
  start: "At key on or start",
  idle: "Standing at idle",
  slow: "Slow, pulling away, shifting",
  driving: "Driving along",
  fast: "Fast, on the motorway",
  load: "Accelerating, uphill, loaded",
  bumps: "Over bumps",
  turning: "Turning",
  braking: "Braking",
  aircon: "With the A/C on",
  electrics: "With lamps and heaters on",
};

export const format = {
  underAMinute: "under 1 min",
  min: (all: number) => `${all} min`,
  hours: (hours: number, rest: number) => (rest ? `${hours} h ${rest} min` : `${hours} h`),
  justNow: "just now",
  under1: "under 1 %",
  over99: "over 99 %",
};

export const net = {
  notReady: (status: number) => `the service is not ready (${status})`,
  tooLarge: "Too large",
  noBodyOfThisSize: "The service takes no body of this size.",
  sendSmaller: "Send a smaller one.",
  stranger: (status: number) => `something other than the service answered (${status})`,
  noAnswerInTime: "no answer in time",
  noConnection: "no connection",
  outdated: "this app is older than the shop's service; update it",
  pictureGone: "The picture is no longer on this phone.",
  takeItAgain: "Let it go and take it again.",
  keepsChanging: "the case keeps changing",
  somebodyElse: (field: Shown) => `Somebody else changed ${field} of this case meanwhile.`,
  lookAndDecide: "Look at the case as it is now; then send again to keep yours, or let yours go.",
  notSent: "Not sent",
  cannotRead: (what: Shown) => `cannot read the service's answer: ${what}`,
};

export const vin = {
  strangeSign: (sign: string, place: number) => `${sign} at place ${place} stands in no VIN. I is likely 1, O and Q 0.`,
  tooShort: (many: number, whole: number) => `${many} of ${whole} signs. It is kept once it is whole; or leave it out.`,
  checkDigit: "The check digit at place 9 is not right. Read the plate again, or leave the VIN out.",
  otherYear: (year: number, typed: number) => `VIN says ${year}, typed ${typed}`,
};

export const reading = {
  notAbove: (high: Shown, unit: Shown) => `not above ${high} ${unit}`,
  notBelow: (low: Shown, unit: Shown) => `not below ${low} ${unit}`,
  between: (low: Shown, high: Shown, unit: Shown) => `${low} to ${high} ${unit}`,
  givenIn: (quantity: Shown, units: Shown, unit: Shown) => `${quantity} is given in ${units}, not in ${unit}`,
  cannotBe: (value: Shown, quantity: Shown, limits: Shown) => `${value} cannot be for ${quantity} (${limits})`,
};

export const draft = {
  codes: (codes: Shown) => `Codes ${codes}`,
  noWordsGiven: "No words given",
};

export const units = {
  micron: "micron",
  apart: (degrees: Shown) => `${degrees} apart`,
  times: "times",
};

export const judged = {
  cannotBeWorkedOut: (why: Shown) => `the listed range cannot be worked out on this phone: ${why}`,
  without: (what: Shown) => `cannot be judged without ${what}`,
  noTableFor: (chosen: Shown, listed: Shown) => `there is no table for ${chosen}; listed: ${listed}`,
  outsideTheTable: (at: Shown) => `${at} lies outside the table`,
  notInTheLists: (quantity: Shown) => `${quantity} is not in the lists on this phone`,
  pleaseGive: (what: Shown) => `. Please give: ${what}`,
  nothingUnusual: "nothing out of the usual",
  atMost: (high: Shown, unit: Shown) => `at most ${high} ${unit}`,
  atLeast: (low: Shown, unit: Shown) => `at least ${low} ${unit}`,
  between: (low: Shown, high: Shown, unit: Shown) => `${low} to ${high} ${unit}`,
  expected: (range: Shown, at: Shown) => (at ? `Expected ${range} at ${at}.` : `Expected ${range}.`),
  assumed: "(assumed)",
  makerDecides: "The range is a rough fallback: the maker's figure decides.",
  note: (note: Shown) => `Note: ${note}.`,
};
