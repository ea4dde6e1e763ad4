/** English: what the phone says by itself, without the service. */
import type { Shown } from "../shown";

export const localAdvice = {
  anotherStep: "Signal is back, and the service proposes another step",
  showTheServices: "Show the service's answer",
  sameStep: "Signal is back: the service comes to the same step",
  workedOutHere: (age: Shown) => `No signal: worked out from this phone's copy, ${age}`,
  askingTheService: "Asking the service…",
  keptAndSent: "Every step is kept here and sent with signal.",
  ageNotKnown: "age not known",
  underAMinuteOld: "less than a minute old",
  old: (age: Shown) => `${age} old`,
  fromThisCopy: (age: Shown) => `No signal: from this phone's copy, ${age}`,
  byWordsOnly: (why: Shown) => `Past cases by words, codes and car. No chances are worked out: ${why}.`,
  askAgain: "Ask again",
  noSignal: "No signal",
  thisPhone: "This phone",
  whatThisPhoneRemembers: "What this phone remembers",
  whatSettledIt: "What settled it before",
  testAsYouKnow: "Test as you know, write it down here",
  settled: (many: number) => `Settled ${many === 1 ? "one" : many} of the cases below`,
  anotherTest: "Another test",
  aReading: "A reading",
  whatItWasBefore: "What it was before",
  nothingLikeThis: "Nothing like this in this phone's copy",
  fewerWords: "Try fewer words, or ask again with signal.",
  readings: "Readings",
};

/** Why no chances are worked out. */
export const lacking = {
  "needs signal": "that needs signal once",
  "no threads": "this browser starts no threads",
  "not started": "the thread could not be started",
  "not fetched": "this phone has not fetched yet what it reckons with",
};

export const nearness = {
  sameMake: "same make",
  otherModel: "same make, other model",
  sameModel: "same model",
  sameYear: "same year",
  yearsApart: (years: number) => (years === 1 ? "1 year apart" : `${years} years apart`),
  sameEngine: "same engine",
};

export const written = {
  repairedWithoutANewPart: "Repaired without a new part",
};
