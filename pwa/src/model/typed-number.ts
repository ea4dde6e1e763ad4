/** Numbers as people type them into fields in their own language: 12,5 and 1.250,00 beside 12.5 and 1,250.00. */

import { locale as ours } from "../texts";
import { numbers } from "./intl";

type Mark = "." | ",";

/** The mark before decimals where this language is written. */
export function decimalMark(locale = ours()): Mark {
  const part = numbers(locale).formatToParts(1.5).find(({ type }) => type === "decimal");
  return part?.value === "," ? "," : ".";
}

/** Whether the one mark in the text parts thousands: three digits behind it, and this language parts them so. */
const partsThousands = (text: string, mark: string, decimal: Mark): boolean => mark !== decimal && /^-?[1-9]\d{0,2}[.,]\d{3}$/.test(text);

/** The text with a point before decimals and nothing between thousands. */
function plain(text: string, decimal: Mark): string {
  const marks = text.match(/[.,]/g) ?? [];
  const last = marks.at(-1);
  if (last === undefined) return text;
  const mixed = marks.some((mark) => mark !== last);
  const grouped = mixed ? false : marks.length > 1 || partsThousands(text, last, decimal);
  if (grouped) return text.replace(/[.,]/g, "");
  const at = text.lastIndexOf(last);
  return `${text.slice(0, at).replace(/[.,]/g, "")}.${text.slice(at + 1)}`;
}

/** What was typed as a number; null where it is none. Blanks part thousands in every language. */
export function numberTyped(typed: string, decimal = decimalMark()): number | null {
  const text = typed.trim().replace(/[\s\u00a0\u202f'](?=\d{3}(?!\d))/g, "");
  if (!/^-?[\d.,]*\d[\d.,]*$/.test(text)) return null;
  const value = Number(plain(text, decimal));
  return Number.isFinite(value) ? value : null;
}

/** A figure as somebody here would type it: for a field that is to be changed. */
export const asTyped = (value: number | null, mark = decimalMark()): string => (value === null ? "" : String(value).replace(".", mark));

/** What stands on the pad, which writes a point in every language, as it is read here. */
export const padShown = (typed: string, mark = decimalMark()): string => typed.replace(".", mark);
