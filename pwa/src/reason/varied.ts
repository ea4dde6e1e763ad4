/** Past cases in the order in which they are worth reading: of each likely cause one first, then its others. */

import type { Match } from "./likeness";

/** The matches, given best first; `further` is what a second and later case of a cause is worth. */
export function varied(matches: readonly Match[], further: number): readonly Match[] {
  const read = new Set<string | null>();
  const worth = matches.map((match) => {
    const { cause } = match.doc.file;
    const share = read.has(cause) ? further : 1;
    read.add(cause);
    return { match, worth: share * match.chance, id: match.doc.file.id };
  });
  return worth.sort((one, other) => other.worth - one.worth || (one.id < other.id ? -1 : 1)).map(({ match }) => match);
}
