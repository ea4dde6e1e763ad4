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
  es: { name: "Español", first: async () => (await import("./es")).first, later: async () => (await import("./es/later")).later },
} satisfies Record<string, { name: string; first: () => Promise<First>; later: () => Promise<Later> }>;

export type Language = keyof typeof LANGUAGES;

/** Texts and the locale of figures and dates change together. */
interface Spoken {
  readonly language: Language;
  readonly locale: string | undefined;
  readonly texts: Partial<Texts>;
}

const spoken = signal<Spoken>({ language: "en", locale: undefined, texts: first });
let laterWanted = false;
let queue: Promise<void> = Promise.resolve();

/** The texts of now; ask anew each time, never keep it. Those of later places are there once `needLater` is done. */
export const t = (): Texts => spoken.value.texts as Texts;

/** For Intl; undefined is the phone's own. */
export const locale = (): string | undefined => spoken.value.locale;

export const language = (): Language => spoken.value.language;

/** Units are a manner of speaking too: those the shop reads in. */
const habit = signal<"si" | "us">("si");
export const unitSystem = (): "si" | "us" => habit.value;
export const readIn = (system: "si" | "us"): void => void (habit.value = system);

/** One after the other: a place that waits for its words must not get those of a language just left. */
function inTurn(act: () => Promise<void>): Promise<void> {
  const done = queue.then(act);
  queue = done.catch(() => undefined);
  return done;
}

/** Changes the language; where its texts cannot be had the old one stays, and this fails. */
export const speak = (language: Language, locale: string | undefined): Promise<void> =>
  inTurn(async () => {
    const { first, later } = LANGUAGES[language];
    spoken.value = { language, locale, texts: { ...(await first()), ...(laterWanted ? await later() : {}) } };
  });

/** Before a place beyond the asking screen is drawn. */
export const needLater = (): Promise<void> =>
  inTurn(async () => {
    if (laterWanted) return;
    const now = spoken.peek();
    spoken.value = { ...now, texts: { ...now.texts, ...(await LANGUAGES[now.language].later()) } };
    laterWanted = true;
  });
