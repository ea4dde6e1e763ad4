/** Every text of the interface, in the language chosen: `t().ask.signs`. Reading it follows a change of language. */
import { signal } from "@preact/signals";

import { first } from "./en";

type Later = typeof import("./en/later").later;
export type First = typeof first;
/** Every language has exactly these texts. */
export type Texts = First & Later;

/** Each language in two parts: what the asking screen needs, and what comes after it. */
export const LANGUAGES = {
  en: { name: "English", first: async () => first, later: async () => (await import("./en/later")).later },
} satisfies Record<string, { name: string; first: () => Promise<First>; later: () => Promise<Later> }>;

export type Language = keyof typeof LANGUAGES;

/** Texts and the locale of figures and dates change together. */
const spoken = signal<{ language: Language; locale: string | undefined; texts: Partial<Texts> }>({ language: "en", locale: undefined, texts: first });
let laterWanted = false;

/** The texts of now; ask anew each time, never keep it. Those of later places are there once `needLater` is done. */
export const t = (): Texts => spoken.value.texts as Texts;

/** For Intl; undefined is the phone's own. */
export const locale = (): string | undefined => spoken.value.locale;

export async function speak(language: Language, locale: string | undefined): Promise<void> {
  const { first, later } = LANGUAGES[language];
  const texts = { ...(await first()), ...(laterWanted ? await later() : {}) };
  spoken.value = { language, locale, texts };
}

/** Before a place beyond the asking screen is drawn. */
export async function needLater(): Promise<void> {
  laterWanted = true;
  const { language, locale, texts } = spoken.peek();
  spoken.value = { language, locale, texts: { ...texts, ...(await LANGUAGES[language].later()) } };
}
