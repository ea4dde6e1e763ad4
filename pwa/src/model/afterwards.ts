/** What must still be done after fitting: learning, coding, aligning; taken from what the trade lists say of the repair. */

import type { Trade } from "../wire";

const STILL = /\b(?:re-?learn|learn|calibrate|code|adapt|align|bleed|teach|initialise|program)\b/i;
/** Clearing a trouble code teaches nothing. */
const NOT_THAT = /\bclear codes?\b/i;

const pieces = (fix: string): readonly string[] => fix.split(/[,;]|\band\b/).map((each) => each.trim()).filter((each) => STILL.test(each) && !NOT_THAT.test(each));

/** Each once, for the causes named and the components fitted; empty where nothing is known. */
export function afterwards({ causes, components }: { causes: readonly string[]; components: readonly string[] }, trade: Trade): readonly string[] {
  const about = trade.causes.filter((each) => causes.includes(each.id) || (each.component !== "" && components.includes(each.component)));
  const all = about.flatMap(({ fix }) => pieces(fix)).map((each) => each.toLowerCase());
  return [...new Set(all)].filter((each) => !all.some((longer) => longer !== each && longer.includes(each)));
}
