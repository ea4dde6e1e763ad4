/** Whether the screen is wide enough for tables; follows a turned tablet and a dragged window. */
import { signal } from "@preact/signals";

const asked = matchMedia("(min-width: 64rem)");

export const wide = signal(asked.matches);
asked.addEventListener("change", () => (wide.value = asked.matches));
