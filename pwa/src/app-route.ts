/** The place shown, read from the address after the hash; every place can be reloaded. */
import { signal } from "@preact/signals";

export type Route =
  | { at: "ask" | "cases" | "failing" | "shop" }
  | { at: "join"; code: string }
  | { at: "case" | "close" | "advice" | "handover"; id: string; of: "draft" | "case" };

/** An unknown address is the asking screen. */
export function routeOf(hash: string): Route {
  const [at = "", first = "", second = ""] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (at === "join") return { at, code: first };
  if (at === "case" || at === "close" || at === "handover") return { at, id: first, of: "case" };
  if (at === "advice" && (first === "draft" || first === "case") && second) return { at, of: first, id: second };
  if (at === "cases" || at === "failing" || at === "shop") return { at };
  return { at: "ask" };
}

export const route = signal<Route>(routeOf(location.hash));

/** Goes there; `instead` leaves no way back to the present place. */
export function go(hash: string, { instead = false } = {}): void {
  if (instead) location.replace(hash);
  else location.hash = hash;
  route.value = routeOf(hash);
}

/** A new place starts at its top, and its name is read out. */
export function followAddress(left: () => void): void {
  const follow = (): void => {
    const there = routeOf(location.hash);
    if (JSON.stringify(there) !== JSON.stringify(route.peek())) route.value = there;
  };
  // The address may have changed between reading it and listening.
  follow();
  addEventListener("hashchange", () => {
    follow();
    left();
    scrollTo({ top: 0 });
    requestAnimationFrame(() => document.querySelector<HTMLElement>(".strip h1")?.focus({ preventScroll: true }));
  });
}
