/** The words a question and a past case share, as a member reads them. */

import type { CaseDoc } from "./casedoc";
import type { Memory } from "./memory";
import type { Question } from "./question";
import { fold } from "./tokens";

export interface Sharing {
  readonly weights: ReadonlyMap<string, number>;
  readonly memory: Memory;
  readonly most: number;
}

/** Kindred words and bare units of time are not what both wrote. */
const readable = (term: string): boolean => !/^(not_)?(=|~\p{L}+$)/u.test(term);

/** The heaviest shared terms, pairs that stand side by side in both first; a word inside a shown one is left out. */
export function wordSharer({ analysis: { shown }, mended }: Question, { weights, memory, most }: Sharing): (doc: CaseDoc) => readonly string[] {
  const written = fold(mended);
  const weigh = (term: string): number => weights.get(term) ?? 0;
  const pairs = [...shown].filter(([term, words]) => term.includes(" ") && written.includes(words));
  const numbered = [...weights.keys()].filter(readable).map((term) => [term, memory.tools.lexicon.number(term)] as const);
  const words = (term: string): string => shown.get(term) ?? shown.get(`not_${term}`)?.replace(/^not /, "") ?? term;
  const ofPair = (pair: string): number => pair.split(" ").reduce((sum, term) => sum + weigh(term), 0);

  function sideBySide(stems: ReadonlySet<string>, { file }: CaseDoc): readonly string[] {
    const likely = pairs.filter(([pair]) => pair.split(" ").every((term) => stems.has(term)));
    const said = likely.length ? fold(`${file.complaint} . ${file.title} . ${file.note}`) : "";
    const held = likely.filter(([, pair]) => said.includes(pair));
    return held.sort(([a], [b]) => ofPair(b) - ofPair(a) || (a < b ? -1 : 1)).map(([, pair]) => pair);
  }

  return (doc) => {
    const held = new Set(doc.terms);
    const chosen = numbered.filter(([, number]) => number !== undefined && number !== null && held.has(number)).map(([term]) => term);
    const negated = (term: string): number => Number(!term.startsWith("not_"));
    chosen.sort((a, b) => negated(a) - negated(b) || weigh(b) - weigh(a) || (a < b ? -1 : 1));
    const found: string[] = [];
    for (const each of [...sideBySide(new Set(chosen), doc), ...chosen.map(words)])
      if (found.length < most && !found.some((other) => other.includes(each))) found.push(each);
    return found;
  };
}
