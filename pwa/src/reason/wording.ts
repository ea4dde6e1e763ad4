/** Sentences for a phone in one hand: a first line within 80 characters, three lines at most. */

import { unitShort } from "../model/units";
import type { TradeTest } from "../wire";

const [LINE, LINES] = [80, 3];

export function short(text: string, most = LINE): string {
  if (text.length <= most) return text;
  return `${text.slice(0, most - 3).replace(/ [^ ]*$/, "").replace(/[ ,;:]+$/, "")}...`;
}

/** The lines that say something, the first one short. */
export function lines(...each: readonly (string | null)[]): string {
  const said = each.filter((line): line is string => Boolean(line));
  return [...said.slice(0, 1).map((line) => short(line)), ...said.slice(1, LINES)].join("\n");
}

const listed = (titles: readonly string[]): string => [titles.slice(0, -1).join(", "), ...titles.slice(-1)].filter(Boolean).join(" and ");

export function tellsApart(titles: readonly string[], most = LINE): string {
  if (!titles.length) return "Tells the likely causes apart.";
  for (let count = Math.min(3, titles.length); count > 1; count -= 1) {
    const whole = `Tells apart ${listed(titles.slice(0, count))}.`;
    if (whole.length <= most) return whole;
  }
  const first = short(`Speaks for or against ${titles[0] ?? ""}`, most - 1);
  return first.endsWith("...") ? first : `${first}.`;
}

/** To the next whole number, a half to the even one as the service has it. */
const whole = (number: number): number => (Math.abs(number % 1) === 0.5 ? 2 * Math.round(number / 2) : Math.round(number));

export const minutes = (number: number): string => (Math.abs(number) < 120 ? `${whole(number)} min` : `${(number / 60).toFixed(1)} h`);

export const percent = (chance: number): string => `${(100 * chance).toFixed(0)}%`;

/** A number to so many figures, without zeros at the end. */
export const general = (value: number, figures = 6): string => String(Number(value.toPrecision(figures)));

/** Four figures with the unit's sign; whole thousands stay whole. */
export const shown = (value: number, unit: string): string => `${Math.abs(value) >= 1000 ? value.toFixed(0) : general(value, 4)} ${unitShort(unit)}`.trim();

/** The state the car must be in, in words. */
export function setupWords({ state }: TradeTest, marks: string): string {
  const key = state?.key ?? "";
  return [
    key === "cranking" ? "cranking" : key.startsWith("engine") ? key : `key ${key}`,
    ...(marks.includes("c") ? ["engine cold first"] : []),
    ...(state?.raised ? ["on the lift"] : []),
    ...(marks.includes("d") ? ["battery disconnected"] : []),
    ...(state?.wheels === "off" ? ["wheels off"] : []),
  ].join(", ");
}
