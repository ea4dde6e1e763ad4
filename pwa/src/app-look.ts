/** Light or dark, usual or high contrast: as the phone is set, unless chosen here. */
import { effect, signal } from "@preact/signals";

import { keep, keptValue } from "./app-kept";

export const SCHEMES = ["phone", "light", "dark"] as const;
export const CONTRASTS = ["phone", "more", "usual"] as const;

export interface Look {
  scheme: (typeof SCHEMES)[number];
  contrast: (typeof CONTRASTS)[number];
}

const AS_PHONE: Look = { scheme: "phone", contrast: "phone" };

const isLook = (value: unknown): value is Look =>
  typeof value === "object" && value !== null && "scheme" in value && "contrast" in value && SCHEMES.some((each) => each === value.scheme) && CONTRASTS.some((each) => each === value.contrast);

export const look = signal<Look>(keptValue("look", isLook) ?? AS_PHONE);

export function chooseLook(change: Partial<Look>): void {
  look.value = { ...look.peek(), ...change };
  keep("look", look.peek());
}

const media = (query: string) => {
  const list = matchMedia(query);
  const on = signal(list.matches);
  list.addEventListener("change", () => (on.value = list.matches));
  return on;
};

/** Marks the page, so that the style sheet need not ask twice. */
export function keepLook(): void {
  const dark = media("(prefers-color-scheme: dark)");
  const more = media("(prefers-contrast: more)");
  effect(() => {
    const { scheme, contrast } = look.value;
    const page = document.documentElement;
    page.dataset["look"] = scheme === "phone" ? (dark.value ? "dark" : "light") : scheme;
    page.dataset["contrast"] = contrast === "phone" ? (more.value ? "more" : "usual") : contrast;
    const bar = getComputedStyle(page).getPropertyValue("--floor").trim();
    for (const each of document.querySelectorAll<HTMLMetaElement>("meta[name=theme-color]")) each.content = bar;
  });
}
