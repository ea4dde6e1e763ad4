/** Trade abbreviations in a text and the plain term each stands for, chosen by its neighbours. */

import type { Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";
import { stem } from "./stem";
import type { Split, Token } from "./tokens";

export interface Expansion {
  readonly start: number;
  readonly end: number;
  readonly typed: string;
  readonly plain: string;
  readonly refersTo: string | null;
  readonly unsure: boolean;
  readonly own: boolean;
}

interface Known {
  readonly plain: string;
  readonly refersTo: string | null;
  readonly decide: ReadonlySet<string>;
  readonly system: string | null;
  readonly afterNumber: boolean;
}

interface Entry {
  readonly kind: string;
  readonly known: readonly Known[];
}

const OWN_WORD = "own";

interface Plainly {
  readonly stop: ReadonlySet<string>;
  readonly isNegator: (word: string) => boolean;
  readonly isLight: (word: string) => boolean;
}

export function plainly({ words }: Lists): Plainly {
  const [stop, negators, light] = [new Set(words.stop), new Set(words.negators), new Set(words.light)];
  return {
    stop,
    isNegator: (word) => negators.has(word) || word.endsWith("n't"),
    isLight: (word) => stop.has(word) || light.has(word),
  };
}

/** The share of each system in the use of each word stem of the lists. */
function systemWords(trade: Trade, stop: ReadonlySet<string>): Map<string, Map<string, number>> {
  const counts = new Map<string, Map<string, number>>();
  const say = (system: string, text: string): void => {
    for (const word of text.toLowerCase().match(/[a-z0-9]+/g) ?? []) {
      if (stop.has(word)) continue;
      const root = stem(word);
      const by = counts.get(root) ?? new Map<string, number>();
      counts.set(root, by.set(system, (by.get(system) ?? 0) + 1));
    }
  };
  for (const { title, systems, said_by_customer, written_by_tech } of trade.symptoms)
    for (const phrase of [title, ...said_by_customer, ...written_by_tech]) say(systems[0] ?? "", phrase);
  for (const { system, title, also } of trade.components) say(system, [title, ...also].join(" "));
  for (const { system, title } of trade.causes) say(system, title);
  for (const by of counts.values()) {
    const total = [...by.values()].reduce((sum, n) => sum + n, 0);
    for (const [system, n] of by) by.set(system, n / total);
  }
  return counts;
}

/** The part of a plain term with commas that a form stands for: "left hand" for "LH". */
function meant(form: string, plain: string): string {
  const letters = form.replace(/[^\p{L}\p{N}_]/gu, "").toLowerCase();
  const parts = plain.split(",").map((each) => each.trim());
  if (parts.length === 1) return plain;
  const initials = parts.find((each) => each.toLowerCase().split(/\s+/).map((word) => word[0] ?? "").join("") === letters);
  return initials ?? parts.find((each) => each.slice(0, 1).toLowerCase() === letters.slice(0, 1) && inOrder(letters, each.toLowerCase())) ?? plain;
}

function inOrder(letters: string, text: string): boolean {
  let at = 0;
  for (const letter of letters) {
    at = text.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}

export type Read = (tokens: readonly Token[], kept: ReadonlySet<string>) => readonly Expansion[];

export const formKey = (form: string, split: Split): string =>
  split(form)
    .filter(({ kind }) => kind !== "stop")
    .map(({ text }) => text)
    .join(" ");

export function senses(lists: Lists, trade: Trade, split: Split): Read {
  const { stop, isNegator, isLight } = plainly(lists);
  const figure = figuresOf(lists.numbers);
  const [reach, named, enough, longest] = [figure("senses", "REACH"), figure("senses", "NAMED"), figure("senses", "ENOUGH"), figure("senses", "LONGEST_FORM")];
  const ordinary = new Set(lists.words.ordinary);
  const notEvidence = new Set(lists.words.not_evidence);
  const systems = systemWords(trade, stop);
  const forms = new Map<string, Entry[]>();
  const first = new Set<string>();

  function knownOf(plain: string, refersTo: string | null, decideBy: string): Known {
    const words = new Set(split(decideBy).filter(({ text }) => !notEvidence.has(text)).map(({ text }) => stem(text)));
    if (words.has("ac")) ["aircon", "conditioning"].forEach((word) => words.add(stem(word)));
    const system = refersTo ? (refersTo.split(".")[0] ?? null) : null;
    return { plain, refersTo, decide: words, system, afterNumber: decideBy.includes("after a number") };
  }

  for (const [written, kind, meanings] of lists.abbreviations) {
    if (kind === "unit") continue;
    const entry: Entry = { kind, known: meanings.map(([plain, refersTo, decideBy]) => knownOf(plain, refersTo, decideBy)) };
    const keys = new Set(written.filter((form) => !/[+-]$/.test(form)).map((form) => formKey(form, split)));
    for (const key of keys) {
      const bare = key.replaceAll(" ", "");
      const everyday = bare.length < 2 || isNegator(bare) || isLight(bare);
      if (kind === OWN_WORD) forms.set(key, [entry]);
      else if (!everyday) forms.set(key, [...(forms.get(key) ?? []), entry]);
    }
  }
  for (const key of forms.keys()) if (key) first.add(key.split(" ")[0] ?? "");

  const says = ({ decide, system }: Known, word: string): number => {
    if (decide.has(word)) return named;
    return system === null ? 0 : (systems.get(word)?.get(system) ?? 0);
  };

  function score(known: Known, stems: readonly string[], tokens: readonly Token[], [start, end]: readonly [number, number]): number {
    let sum = known.afterNumber && start > 0 && tokens[start - 1]?.kind === "number" ? named : 0;
    for (let at = Math.max(0, start - 2 * Math.trunc(reach)); at < Math.min(stems.length, end + 2 * Math.trunc(reach)); at += 1) {
      if (start <= at && at < end) continue;
      sum += says(known, stems[at] ?? "") / (1 + Math.min(Math.abs(at - start), Math.abs(at - end + 1)) / reach);
    }
    return sum;
  }

  function choose(entries: readonly Entry[], stems: readonly string[], tokens: readonly Token[], span: readonly [number, number]): Expansion | null {
    const options = entries.flatMap(({ known }) => known);
    let [best, most] = [options[0], -Infinity];
    for (const option of options) {
      const value = score(option, stems, tokens, span);
      if (value > most) [best, most] = [option, value];
    }
    if (!best) return null;
    const typed = tokens.slice(...span).map(({ shown }) => shown).join(" ");
    const [unsure, own] = [options.length > 1, entries[0]?.kind === OWN_WORD];
    const guessed = (unsure && entries[0]?.kind === "slang") || (ordinary.has(typed) && !own);
    if (guessed && most < enough) return null;
    const plain = own ? best.plain : meant(typed, best.plain);
    return { start: span[0], end: span[1], typed, plain, refersTo: best.refersTo, unsure, own };
  }

  function longestAt(tokens: readonly Token[], stems: readonly string[], at: number, kept: ReadonlySet<string>): Expansion | null {
    for (let size = Math.min(longest, tokens.length - at); size > 0; size -= 1) {
      const form = tokens.slice(at, at + size).map(({ text }) => text).join(" ");
      const entries = forms.get(form);
      if (entries && !kept.has(form)) return choose(entries, stems, tokens, [at, at + size]);
    }
    return null;
  }

  return (tokens, kept) => {
    const stems = tokens.map(({ text }) => stem(text));
    const found: Expansion[] = [];
    for (let at = 0; at < tokens.length; ) {
      const expansion = first.has(tokens[at]?.text ?? "") ? longestAt(tokens, stems, at, kept) : null;
      if (expansion) found.push(expansion);
      at = expansion ? expansion.end : at + 1;
    }
    return found;
  };
}
