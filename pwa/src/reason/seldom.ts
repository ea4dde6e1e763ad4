/** How much it says that two cases share a thing: 1 less the share of the cases that have it, near 1 while these are few. */

import type { Figure } from "./figures";

export const seldom = (held: number, cases: number, figure: Figure): number => 1 - held / (cases + figure("seldom", "FEW"));
