/** English: what comes before a job and after it. */
import type { Shown } from "../shown";

export const afterwards = {
  stillToDo: (what: Shown) => `Still to do after fitting: ${what}`,
  makersWay: "By the maker's procedure, before it goes out.",
};

export const carPast = {
  before: (times: number) => `This car was here ${times === 1 ? "once" : `${times} times`} before`,
  last: (day: Shown, distance: Shown, what: Shown) => [`Last ${day}`, distance && `at ${distance}`].filter(Boolean).join(" ") + `: ${what}`,
  open: "Open",
};

export const toCall = {
  title: "Customers to call",
  why: "Finished two weeks ago and more, the riskiest first. Ask whether it stayed cured.",
  days: (days: number) => `${days} days ago`,
  more: (many: number) => `${many} more`,
  cured: "Cured",
  cameBack: "Came back",
  somethingElse: "Something else",
  saidCured: (day: Shown) => `customer called ${day}: cured`,
  noted: "Noted as cured, and counted as proved by the customer's word",
  risks: {
    unproved: "cure not proved",
    away: "fault came and went",
    partly: "cured only partly",
    cheap: "part not from the maker",
    untested: "no test confirmed it",
  },
};
