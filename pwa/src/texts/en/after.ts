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
