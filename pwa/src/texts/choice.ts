/** Which language a phone speaks: the one chosen on it, else the first of its own that is here. */
import { LANGUAGES, type Language } from "./index";

export type Choice = "phone" | Language;

const isLanguage = (value: unknown): value is Language => typeof value === "string" && Object.hasOwn(LANGUAGES, value);
export const isChoice = (value: unknown): value is Choice => value === "phone" || isLanguage(value);

const baseOf = (tag: string): string => tag.toLowerCase().split("-")[0] ?? "";

/**
 * What is spoken, and how figures and dates are written. A phone in a language that is not here gets English words
 * and keeps its own figures; a region of the phone's own stands by a language chosen.
 */
export function spokenFor(choice: Choice, phones: readonly string[]): { language: Language; locale: string | undefined } {
  const language = choice === "phone" ? phones.map(baseOf).find(isLanguage) : choice;
  const regional = phones.find((tag) => baseOf(tag) === language);
  return { language: language ?? "en", locale: language && (regional ?? language) };
}
