/** The place shown, read from the address after the hash; every place can be reloaded. */
import { signal } from "@preact/signals";

export type Route =
  | { at: "ask" | "cases" | "failing" | "shop" }
  | { at: "join"; code: string }
  | { at: "case" | "close" | "advice" | "handover"; id: string; of: "draft" | "case" };

/** An unknown address is the asking screen. */
function routeOf(hash: string): Route {
  const [at = "", first = "", second = ""] = hash.replace(/^#\/?|\?.*/g, "").split("/").map(decodeURIComponent);
  if (at === "join") return { at, code: first };
  if (at === "case" || at === "close" || at === "handover") return { at, id: first, of: "case" };
  if (at === "advice" && (first === "draft" || first === "case") && second) return { at, of: first, id: second };
  if (at === "cases" || at === "failing" || at === "shop") return { at };
  return { at: "ask" };
}

const queryOf = (hash: string): string => hash.split("?")[1] ?? "";

export const route = signal<Route>(routeOf(location.hash));
/** What the place is asked to show, after the question mark. */
export const asked = signal(queryOf(location.hash));

function arrive(hash: string): void {
  const there = routeOf(hash);
  asked.value = queryOf(hash);
  if (JSON.stringify(there) !== JSON.stringify(route.peek())) route.value = there;
}

/** Goes there; `instead` leaves no way back to the present place. */
export function go(hash: string, { instead = false } = {}): void {
  if (instead) location.replace(hash);
  else location.hash = hash;
  arrive(hash);
}

/** A new place starts at its top, and its name is read out; another view of the same place stays where it is. */
export function followAddress(left: () => void): void {
  let placed = location.hash.split("?")[0];
  // The address may have changed between reading it and listening.
  arrive(location.hash);
  addEventListener("hashchange", () => {
    arrive(location.hash);
    const place = location.hash.split("?")[0];
    if (place === placed) return;
    placed = place;
    left();
    scrollTo({ top: 0 });
    requestAnimationFrame(() => document.querySelector<HTMLElement>(".strip h1")?.focus({ preventScroll: true }));
  });
}
