/** Spanish: what the start needs. */
import * as said from "./said";
import * as start from "./start";

export const first = { ...start, ...said };
