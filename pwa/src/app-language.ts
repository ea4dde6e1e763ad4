/** The language of the interface: as the phone is set, unless chosen here. */
import { signal } from "@preact/signals";

import { keep, keptValue } from "./app-kept";
import { speak } from "./texts";
import { isChoice, spokenFor, type Choice } from "./texts/choice";

export const chosenLanguage = signal<Choice>(keptValue("language", isChoice) ?? "phone");

async function follow(choice: Choice): Promise<void> {
  const { language, locale } = spokenFor(choice, navigator.languages);
  await speak(language, locale);
  document.documentElement.lang = language;
}

/** Before the first drawing. Without the texts of the language chosen the start is in English rather than not at all. */
export const startLanguage = (): Promise<void> => follow(chosenLanguage.peek()).catch(() => undefined);

/** False where the texts could not be fetched: then nothing changes. */
export async function chooseLanguage(choice: Choice): Promise<boolean> {
  try {
    await follow(choice);
  } catch {
    // Not on this phone yet, and no signal.
    return false;
  }
  chosenLanguage.value = choice;
  keep("language", choice);
  return true;
}
