/** Keeps the screen lit while the next step is shown; the phone lies on a wing, not in a hand. */
import { effect } from "@preact/signals";

import { route } from "./app-route";

let held: WakeLockSentinel | null = null;

async function hold(): Promise<void> {
  const wanted = route.peek().at === "advice" && document.visibilityState === "visible";
  if (!("wakeLock" in navigator) || !wanted || (held && !held.released)) return;
  try {
    held = await navigator.wakeLock.request("screen");
  } catch (error) {
    // Low battery or a setting of the phone forbids it; the screen dims as usual.
    if (!(error instanceof DOMException)) throw error;
  }
}

async function release(): Promise<void> {
  await held?.release();
  held = null;
}

export function keepAwake(): void {
  effect(() => void (route.value.at === "advice" ? hold() : release()));
  document.addEventListener("visibilitychange", () => void hold());
}
