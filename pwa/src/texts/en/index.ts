/** English, which every other language follows: what the start needs. */
import * as said from "./said";
import * as start from "./start";

export const first = { ...start, ...said };
