/** One way of reading text, for the copy's cases and for the question alike. */

import type { Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";
import { plainly, senses } from "./senses";
import type { Expansion } from "./senses";
import { stem } from "./stem";
import { splitter } from "./tokens";
import type { Split, Token } from "./tokens";

export interface Analysis {
  /** Single stems and pairs (which hold a blank), repeats kept; negated ones start with "not_". */
  readonly terms: readonly string[];
  readonly stems: readonly string[];
  /** Content words as written and plain terms of abbreviations, for spelling. */
  readonly words: readonly string[];
  readonly codes: readonly string[];
  readonly shown: ReadonlyMap<string, string>;
  readonly expansions: readonly Expansion[];
}

interface Piece {
  readonly term: string;
  readonly shown: string;
  readonly words: readonly string[];
  readonly also: readonly string[];
  readonly breaks: boolean;
}

export interface Analyzer {
  readonly analyze: (text: string, kept?: ReadonlySet<string>) => Analysis;
  /** The terms of a text and how much each says. */
  readonly weighted: (analysis: Analysis) => Map<string, number>;
  readonly split: Split;
  readonly stop: ReadonlySet<string>;
  readonly kindred: (root: string) => readonly string[];
}

const NEGATION_REACH = 4;
const [SHORT, MOST_KEPT] = [120, 5_000];
const NONE: ReadonlySet<string> = new Set();
const bareOf = (term: string): string => (term.startsWith("not_") ? term.slice(4) : term);

/** Single terms as written, then the plain ones beside them, then the pair with the last. */
function termsOf(pieces: readonly Piece[], shown: Map<string, string>): string[] {
  const terms: string[] = [];
  const note = (term: string, words: string): void => {
    if (!shown.has(term)) shown.set(term, words);
    terms.push(term);
  };
  let last: Piece | null = null;
  for (const piece of pieces) {
    note(piece.term, piece.shown);
    for (const term of piece.also) if (term !== piece.term) note(term, piece.shown);
    if (last && !piece.breaks) note(`${last.term} ${piece.term}`, `${last.shown} ${piece.shown}`);
    last = piece;
  }
  return terms;
}

export function analyzer(lists: Lists, trade: Trade): Analyzer {
  const split = splitter(lists);
  const read = senses(lists, trade, split);
  const { stop, isNegator, isLight } = plainly(lists);
  const figure = figuresOf(lists.numbers);
  const beside = { negated: figure("terms", "NEGATED"), measure: figure("terms", "MEASURE"), plain: figure("terms", "PLAIN"), kindred: figure("terms", "KINDRED") };
  const { kindred: groups } = lists.words;
  const kindred = (root: string): readonly string[] => (Object.hasOwn(groups, root) ? (groups[root] ?? []) : []);
  const short = new Map<string, Analysis>();
  const plainKept = new Map<string, readonly string[]>();

  function plainWords(plain: string): readonly string[] {
    const known = plainKept.get(plain);
    if (known) return known;
    const words = split(plain.replace(/\([^)]*\)/g, " ")).filter(({ kind }) => kind === "word").map(({ text }) => text);
    plainKept.set(plain, words);
    return words;
  }

  function pieceOf(token: Token, expansion: Expansion | undefined, negated: boolean, breaks: boolean): Piece {
    const glue = negated ? "not_" : "";
    const spelt = ["measure", "number", "code"].includes(token.kind) ? [] : [token.text];
    const plain = expansion ? plainWords(expansion.plain) : [];
    const root = stem(token.text);
    const also = [...plain.filter((word) => !stop.has(word)).map(stem), ...kindred(root)].map((term) => glue + term);
    const words = token.kind === "measure" ? [] : [...new Set([...spelt, ...token.also, ...plain])];
    return { term: glue + root, shown: negated ? `not ${token.shown}` : token.shown, words, also: [...token.also, ...also], breaks };
  }

  function piecesOf(tokens: readonly Token[], plain: ReadonlyMap<number, Expansion>): Piece[] {
    const pieces: Piece[] = [];
    let negatedUntil = -1;
    let breaks = true;
    tokens.forEach((token, at) => {
      const expansion = plain.get(at);
      if (token.kind === "stop") [negatedUntil, breaks] = [-1, true];
      else if (isNegator(token.text) && !expansion) negatedUntil = at + NEGATION_REACH;
      else if (!stop.has(token.text) || expansion) {
        const negated = at <= negatedUntil && token.kind === "word";
        if (negated && isLight(token.text)) return;
        pieces.push(pieceOf(token, expansion, negated, breaks));
        [negatedUntil, breaks] = [-1, false];
      }
    });
    return pieces;
  }

  function whole(text: string, kept: ReadonlySet<string>): Analysis {
    const tokens = split(text);
    const expansions = read(tokens, kept);
    const pieces = piecesOf(tokens, new Map(expansions.map((each) => [each.start, each])));
    const shown = new Map<string, string>();
    return {
      terms: termsOf(pieces, shown),
      stems: pieces.map(({ term }) => bareOf(term)),
      words: pieces.flatMap(({ words }) => words),
      codes: [...new Set(tokens.filter(({ kind }) => kind === "code").map(({ text: code }) => code))],
      shown,
      expansions,
    };
  }

  function analyze(text: string, kept: ReadonlySet<string> = NONE): Analysis {
    if (text.length > SHORT || kept.size > 0) return whole(text, kept);
    const known = short.get(text);
    if (known) return known;
    if (short.size >= MOST_KEPT) short.clear();
    const fresh = whole(text, kept);
    short.set(text, fresh);
    return fresh;
  }

  function besideOf(term: string): number {
    const bare = bareOf(term);
    if (bare.startsWith("=")) return beside.kindred;
    if (bare.startsWith("~")) return beside.measure;
    return bare === term ? beside.plain : beside.negated;
  }

  function weighted({ stems, terms }: Analysis): Map<string, number> {
    const counts = new Map<string, number>();
    for (const root of stems) counts.set(root, (counts.get(root) ?? 0) + 1);
    const own = new Set(counts.keys());
    for (const term of terms)
      if (!own.has(term) && !term.includes(" ")) counts.set(term, (counts.get(term) ?? 0) + besideOf(term));
    return counts;
  }

  return { analyze, weighted, split, stop, kindred };
}
