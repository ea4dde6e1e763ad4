/** Money, dates and minutes in the member's own language. */

import { locale as ours, t } from "../texts";
import { dates, numbers, spans } from "./intl";

const two = (value: number): string => String(value).padStart(2, "0");

/** "$1,234.50" in the shop's currency; an unknown currency is shown by its letters. */
export function money(amount: number | null, currency: string, locale = ours()): string {
  if (amount === null) return "";
  const whole = Number.isInteger(amount) && Math.abs(amount) >= 100;
  try {
    const digits = whole ? { minimumFractionDigits: 0, maximumFractionDigits: 0 } : {};
    return numbers(locale, { style: "currency", currency, ...digits }).format(amount);
  } catch {
    return `${plainNumber(amount, locale)} ${currency}`.trim();
  }
}

/** "$140": an amount to say aloud, without cents. */
export function wholeMoney(amount: number, currency: string, locale = ours()): string {
  try {
    return numbers(locale, { style: "currency", currency, maximumFractionDigits: 0 }).format(amount);
  } catch {
    return `${plainNumber(Math.round(amount), locale)} ${currency}`.trim();
  }
}

/** A number with at most `figures` significant figures. */
export const plainNumber = (value: number, locale = ours(), figures = 6): string =>
  numbers(locale, { maximumSignificantDigits: figures }).format(value);

/** "1 h 25 min", "25 min"; part minutes are rounded, a short while is "under 1 min". */
export function minutes(value: number): string {
  if (value > 0 && value < 1) return t().format.underAMinute;
  const all = Math.round(value);
  if (Math.abs(all) < 60) return t().format.min(all);
  const hours = Math.trunc(all / 60);
  const rest = Math.abs(all % 60);
  return t().format.hours(hours, rest);
}

const dated = (when: string | null): Date | null => {
  const date = when === null ? null : new Date(when);
  return date === null || Number.isNaN(date.getTime()) ? null : date;
};

/** "11 Mar 2026"; empty when there is none or it is no date. */
export function day(when: string | null, locale = ours(), timeZone?: string): string {
  const date = dated(when);
  return date
    ? dates(locale, { day: "numeric", month: "short", year: "numeric", timeZone }).format(date)
    : "";
}

/** "11 Mar 2026, 09:20". */
export function dayAndTime(when: string | null, locale = ours(), timeZone?: string): string {
  const date = dated(when);
  const parts = {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    timeZone,
  } as const;
  return date ? dates(locale, parts).format(date) : "";
}

const STEPS: readonly (readonly [seconds: number, unit: Intl.RelativeTimeFormatUnit, from: number])[] = [
  [86400, "day", 86400],
  [3600, "hour", 3600],
  [60, "minute", 60],
];

/** "5 minutes ago"; within a minute "just now"; past a month the day itself. */
export function ago(when: string | null, now: Date, locale = ours()): string {
  const date = dated(when);
  if (!date) return "";
  const seconds = (now.getTime() - date.getTime()) / 1000;
  if (Math.abs(seconds) < 60) return t().format.justNow;
  if (Math.abs(seconds) > 31 * 86400) return day(when, locale);
  const step = STEPS.find(([, , from]) => Math.abs(seconds) >= from);
  if (!step) return t().format.justNow;
  return spans(locale).format(-Math.round(seconds / step[0]), step[1]);
}

/** "71 %" of a chance in 0..1; never a false 0 or 100. */
export function percent(chance: number): string {
  if (chance > 0 && chance < 0.01) return t().format.under1;
  if (chance < 1 && chance > 0.99) return t().format.over99;
  return `${Math.round(chance * 100)} %`;
}

/** A running clock: "0:07", "1:02:30". */
export function clock(seconds: number): string {
  const all = Math.max(0, Math.floor(seconds));
  const [hours, mins, secs] = [Math.floor(all / 3600), Math.floor((all % 3600) / 60), all % 60];
  return hours ? `${hours}:${two(mins)}:${two(secs)}` : `${mins}:${two(secs)}`;
}
