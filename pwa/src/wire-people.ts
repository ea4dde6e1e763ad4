/** A member who leaves, and who changed what, as they travel. */
import { list, number, object, orNull, text, type Parsed } from "./wire-parse";
import { parseMember } from "./wire-shop";

/** How a member leaves: other words they are named by, whether texts are changed, or only told. */
export interface LeaveBody {
  readonly also: readonly string[];
  readonly in_texts: boolean;
  readonly preview: boolean;
}

/** How many cases carry the name, and the first texts that hold it. */
export const parseLeft = object({
  member: parseMember,
  cases: number,
  found: list(object({ case: text, field: text, text })),
});
export type Left = Parsed<typeof parseLeft>;

const parseAct = object({
  seq: number,
  at: text,
  member: text,
  name: text,
  device_name: text,
  kind: text,
  entity: text,
  done: text,
  fields: text,
});
export type TrailAct = Parsed<typeof parseAct>;

/** The newest first; `next` is where the page before goes on, null on the last. */
export const parseTrail = object({ acts: list(parseAct), next: orNull(number) });
export type Trail = Parsed<typeof parseTrail>;
