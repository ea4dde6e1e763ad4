/** Words handed to another app of the phone; where it has no way, or refuses, into the clipboard. */
import { copyText } from "./app-copy-text";
import { t } from "./texts";

export interface Shared {
  readonly title: string;
  readonly text: string;
  /** Where it can be looked at. */
  readonly url?: string;
}

export const canShare = (): boolean => typeof navigator.share === "function";

export async function share(shared: Shared, copied: string): Promise<void> {
  const whole = [shared.text, shared.url].filter(Boolean).join("\n");
  if (!canShare()) return copyText(whole, copied);
  try {
    await navigator.share(shared);
  } catch (error) {
    if (!(error instanceof DOMException) && !(error instanceof TypeError)) throw error;
    // Turned away by the person: nothing to say.
    if (error.name !== "AbortError") await copyText(whole, t().handover.notSharedCopied);
  }
}
