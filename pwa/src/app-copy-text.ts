/** Words into the phone's clipboard, where it allows that. */
import { say } from "./app-state";
import { t } from "./texts";

export async function copyText(text: string, words: string): Promise<void> {
  try {
    await navigator.clipboard.writeText(text);
    say({ text: words });
  } catch (error) {
    // Forbidden by a setting, or a page without a certificate: it can still be read aloud.
    if (!(error instanceof DOMException) && !(error instanceof TypeError)) throw error;
    say({ text: t().app.thisPhoneDoesNotLet });
  }
}
