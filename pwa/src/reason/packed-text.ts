/** What was read of a case, as it is laid up: terms by weight in one line, words in another. */

import type { CaseText } from "./casedoc";

export interface PackedText {
  readonly terms: string;
  readonly words: string;
  readonly symptoms: string;
}

const FIGURES = 5;

/** "0.5 a b;1 c": each weight with its terms, which hold no blanks. */
export function packedText({ terms, words, symptoms }: CaseText): PackedText {
  const by = new Map<string, string[]>();
  for (const [term, weight] of terms) {
    const key = String(Number(weight.toPrecision(FIGURES)));
    const held = by.get(key);
    if (held) held.push(term);
    else by.set(key, [term]);
  }
  return {
    terms: [...by].map(([weight, held]) => `${weight} ${held.join(" ")}`).join(";"),
    words: words.join(" "),
    symptoms: symptoms.map(([symptom, chance]) => `${symptom} ${Number(chance.toPrecision(FIGURES))}`).join(" "),
  };
}

const parts = (line: string): readonly string[] => (line ? line.split(" ") : []);

export function unpackedText({ terms, words, symptoms }: PackedText): CaseText {
  const groups = terms ? terms.split(";").map((group) => group.split(" ")) : [];
  const heard = parts(symptoms);
  return {
    terms: groups.flatMap(([weight, ...held]) => held.map((term) => [term, Number(weight)] as const)),
    words: parts(words),
    symptoms: heard.flatMap((symptom, n) => (n % 2 ? [] : [[symptom, Number(heard[n + 1])] as const])),
  };
}
