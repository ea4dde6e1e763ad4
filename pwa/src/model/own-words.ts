/** Words that are right as the shop writes them, compared as the service compares them. */

export interface Word {
  readonly id: string;
  readonly means: string;
}

/** A word or phrase without capitals, accents and signs; empty for none. */
export function phraseKey(words: string): string {
  const folded = words.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  return (folded.match(/[\p{L}\p{N}]+(?:['\u2019]\p{L}+)?/gu) ?? []).join(" ").replaceAll("\u2019", "'");
}

/** Whether the phrase stands in the text, word by word. */
const holds = (text: string, phrase: string): boolean => ` ${text} `.includes(` ${phrase} `);

/** The text with what the shop's own words in it stand for beside it. */
export function withMeanings(text: string, words: readonly Word[]): string {
  const key = phraseKey(text);
  const meant = words.filter(({ id, means }) => means !== "" && holds(key, id)).map(({ means }) => means);
  return [text, ...meant].join(" . ");
}

/** The typed words and phrases of the text that stay as they are: said so for it, or the shop's own. */
export const rightAsTyped = (asTyped: readonly string[], words: readonly Word[]): readonly string[] => [
  ...new Set([...asTyped.map(phraseKey), ...words.map(({ id }) => id)]),
];
