/** What other shops of the service may see of a case, and what they saw, as it travels. */
import { parseSimilar } from "./wire-advice";
import { parseCase } from "./wire-case";
import { flag, list, number, object, orNull, text, type Parsed } from "./wire-parse";

/** A case as others would see it, with what was taken out of its words; `shared` is null where they do not see it. */
export const parseSharing = object({
  case: parseCase,
  taken_out: list(object({ field: text, kind: text, was: text })),
  revision: number,
  shared: orNull(text),
  changed_since: flag,
});
export type Sharing = Parsed<typeof parseSharing>;

export const parseElsewhere = object({ cases: list(parseSimilar) });
export type Elsewhere = Parsed<typeof parseElsewhere>;
