/** Cuts typed or dictated text into words, measures, codes and part numbers, each in one spelling. */

import type { Lists } from "../wire-reasoning";

export type Kind = "word" | "number" | "measure" | "code" | "part" | "stop";

export interface Token {
  readonly text: string;
  readonly kind: Kind;
  readonly shown: string;
  readonly also: readonly string[];
}

export const MAX_CHARS = 20_000;
const MAX_WORD = 40;
const W = "[\\p{L}\\p{N}_]";

const TYPED_CODE =
  "(?<letter>[pcbu])(?:-|(?<=p)\\s|(?<=[cbu])\\s(?!(?:19[5-9]|20[0-3])\\d\\b))?(?<digits>[0-3o][0-9a-fo]{3})";
const SPELT_CODE = "(?<spelt_letter>[pbu])(?<spelt>(?:[ -](?:oh|o|\\d)|(?<=[ \\d])\\d){4})";
const CODE = new RegExp(`(?<!${W})(?:${TYPED_CODE}|${SPELT_CODE})(?:[-:](?<suffix>[0-9a-f]{2}))?(?!${W})`, "gu");

const VALUE = "(?<value>[-+]?(?<![\\d.,])\\d{1,9}(?:[.,]\\d{1,9})?)";
const SCAN = new RegExp(
  [
    `${VALUE}\\s?(?<unit>%|"hg|[°a-zω]{1,12}(?:/[a-z]{1,3}|-lb|-ft)?)(?!${W})`,
    `(?<number>\\d+[.,]\\d+)(?!${W})`,
    `(?<short>[a-z]{1,2}(?:/[a-z]{1,2})+|[a-z](?:\\.[a-z])+\\.?)(?!${W})`,
    `(?<part>(?=[a-z/.\\-]{0,24}\\d)[a-z0-9]{1,24}(?:[-./][a-z0-9]{1,24}){0,6})(?!${W})`,
    "(?<word>[\\p{L}\\p{N}]+(?:'\\p{L}+)?)",
    "(?<stop>[.;!?\\n]+)",
  ].join("|"),
  "gu",
);

/** Compatibility form, lower case, without accents. */
export function fold(text: string): string {
  const wide = text.slice(0, MAX_CHARS).normalize("NFKC").toLowerCase();
  return wide.normalize("NFKD").replace(/\p{M}/gu, "").slice(0, MAX_CHARS).replace(/[’`]/g, "'");
}

const numeric = (text: string): boolean => /^\d+(?:\.\d*)?$|^\.\d+$/.test(text);

/** Halves go to the even neighbour. */
function roundEven(value: number): number {
  const floor = Math.floor(value);
  if (value - floor !== 0.5) return Math.round(value);
  return floor % 2 === 0 ? floor : floor + 1;
}

interface Cut {
  readonly token: Token | null;
  readonly end: number;
}

const token = (text: string, kind: Kind, shown: string, also: readonly string[] = []): Token => ({ text, kind, shown, also });

/** The five signs of a code in upper case; null where it is only a word. */
function codeIn(found: RegExpExecArray): string | null {
  const { letter, digits, spelt_letter, spelt } = found.groups ?? {};
  const body = digits ?? (spelt ?? "").replaceAll("oh", "o").replace(/[ -]/g, "");
  if (letter && (body.match(/\d/g) ?? []).length < 2) return null;
  const code = ((letter ?? spelt_letter ?? "") + body.replaceAll("o", "0")).toUpperCase();
  return "0123".includes(code[1] ?? "-") ? code : null;
}

function part(text: string, start: number): Cut {
  const bare = text.replace(/[^\p{L}\p{N}_]/gu, "");
  const end = start + text.length;
  if (numeric(text)) return { token: token(text, "number", text), end };
  if (bare.length >= 5 && (text.match(/\d/g) ?? []).length >= 3) {
    const pieces = text.split(/[^\p{L}\p{N}_]/u).filter((piece) => piece.length >= 3);
    return { token: token(text, "part", text, bare === text ? [] : [bare, ...pieces]), end };
  }
  const piece = text.split(/[^\p{L}\p{N}_]/u)[0] ?? "";
  return { token: token(piece, /^\d+$/.test(piece) ? "number" : "word", piece), end: start + piece.length };
}

export type Split = (text: string) => readonly Token[];
export type UnitOf = (spelling: string, glued: boolean) => string | null;

export function unitsOf({ measures }: Lists): UnitOf {
  const onlyGlued = new Set(measures.only_glued);
  return (spelling, glued) => {
    const unit = Object.hasOwn(measures.units, spelling) ? measures.units[spelling] : undefined;
    return unit === undefined || (!glued && onlyGlued.has(spelling)) ? null : unit;
  };
}

/** Number words to ninety-nine as digits: "twelve point one" is "12.1". */
function spokenToDigits({ measures: { small, tens } }: Lists): (text: string) => string {
  const values = new Map<string, number>([...small.map((word, n) => [word, n] as const), ...Object.entries(tens)]);
  const units = small.slice(1, 10).join("|");
  const spoken = new RegExp(
    `\\b(?:(?<tens>${Object.keys(tens).join("|")})[ -](?<units>${units})|(?<one>${[...values.keys()].join("|")}))\\b`,
    "g",
  );
  const of = (word: string | undefined): number => values.get(word ?? "") ?? 0;
  const digits = (...given: unknown[]): string => {
    const { tens: ten, units: unit, one } = given.at(-1) as Record<string, string | undefined>;
    return String(one ? of(one) : of(ten) + of(unit));
  };
  return (text) =>
    text
      .replace(spoken, digits)
      .replace(/\b(\d{1,4}) point ((?:\d ?)*\d)\b/g, (_all, whole: string, rest: string) => `${whole}.${rest.replaceAll(" ", "")}`);
}

/** The measure in its base unit to two figures, so that 68 psi, 4.7 bar and 470 kPa meet. */
function plainMeasure({ measures }: Lists): (value: number, unit: string) => readonly string[] {
  const times = new Set(measures.times);
  return (value, unit) => {
    if (times.has(unit)) return [`~${unit}`];
    if (unit === "f") return [`~${roundEven((value - 32) / 1.8)}c`];
    if (unit === "c") return [`~${roundEven(value)}c`];
    const [factor, base] = measures.to_base[unit] ?? [];
    return factor === undefined ? [] : [`~${Number((value * factor).toPrecision(2))}${base ?? ""}`];
  };
}

export function splitter(lists: Lists): Split {
  const [toDigits, plain, unitOf] = [spokenToDigits(lists), plainMeasure(lists), unitsOf(lists)];

  function measure(found: RegExpExecArray): Cut {
    const { value = "", unit: spelt = "" } = found.groups ?? {};
    const [start, whole] = [found.index, found[0]];
    const glued = whole.length === value.length + spelt.length;
    const unit = unitOf(spelt, glued);
    const number = value.replace(",", ".").replace(/^\++/, "");
    if (unit !== null) return { token: token(number + unit, "measure", whole, plain(Number(number), unit)), end: start + whole.length };
    if (glued) return { token: token(whole.replace(/^[+-]+/, ""), "word", whole), end: start + whole.length };
    return { token: token(number.replace(/^-+/, ""), "number", value), end: start + value.length };
  }

  function cut(found: RegExpExecArray): Cut {
    const groups = found.groups ?? {};
    const end = found.index + found[0].length;
    if (groups.value !== undefined) return measure(found);
    if (groups.part !== undefined) return part(groups.part, found.index);
    if (groups.stop !== undefined) return { token: token(".", "stop", found[0]), end };
    if (groups.short !== undefined) return { token: token(found[0].replace(/[^\p{L}\p{N}_]/gu, ""), "word", found[0]), end };
    const text = found[0].replaceAll(",", ".");
    return { token: token(text.slice(0, MAX_WORD), numeric(text) ? "number" : "word", found[0].slice(0, MAX_WORD)), end };
  }

  function scanned(text: string): Token[] {
    const tokens: Token[] = [];
    SCAN.lastIndex = 0;
    for (let found = SCAN.exec(text); found; found = SCAN.exec(text)) {
      const { token: one, end } = cut(found);
      if (one) tokens.push(one);
      SCAN.lastIndex = end;
    }
    return tokens;
  }

  return (text) => {
    const folded = toDigits(fold(text));
    const tokens: Token[] = [];
    let at = 0;
    for (const found of folded.matchAll(CODE)) {
      const code = codeIn(found as RegExpExecArray);
      if (code === null) continue;
      tokens.push(...scanned(folded.slice(at, found.index)), token(code, "code", found[0]));
      at = found.index + found[0].length;
    }
    return [...tokens, ...scanned(folded.slice(at))];
  };
}
