/** What the trade lists and the service's figures decide: made once, and shared by every question on them. */

import type { Component, Symptom, Trade, TradeCause, TradeTest } from "../wire";
import { REASONING_FORMAT } from "../wire-reasoning";
import type { Lists, Taught } from "../wire-reasoning";
import { analyzer } from "./analyze";
import type { Analyzer } from "./analyze";
import { beliefsOf } from "./beliefs";
import type { Beliefs } from "./beliefs";
import { Lexicon, docOf, textReader } from "./casedoc";
import type { CaseDoc, CaseText, ReadText } from "./casedoc";
import { codesOf } from "./codes";
import type { Codes } from "./codes";
import { CopyError, figuresOf } from "./figures";
import type { Figure } from "./figures";
import { leanOf } from "./lean";
import type { Lean } from "./lean";
import { mender } from "./mend";
import type { Mend, Vocabulary } from "./mend";
import type { Memory } from "./memory";
import { carSense } from "./nearness";
import type { CarSense } from "./nearness";
import { meter } from "./readings";
import type { Meter } from "./readings";
import { shortHand } from "./spelling";
import { spotter } from "./symptoms";
import type { Spotter } from "./symptoms";
import { fold, unitsOf } from "./tokens";
import type { UnitOf } from "./tokens";
import { WordBook } from "./wordbook";
import type { Case } from "../wire";

export interface Engine {
  readonly lists: Lists;
  readonly taught: Taught;
  readonly trade: Trade;
  readonly figure: Figure;
  readonly analyzer: Analyzer;
  readonly spotter: Spotter;
  readonly codes: Codes;
  readonly lean: Lean;
  readonly meter: Meter;
  readonly carSense: CarSense;
  readonly carSteps: readonly string[];
  readonly stepsOfTheMake: readonly string[];
  readonly mend: Mend;
  readonly unitOf: UnitOf;
  readonly beliefs: Beliefs;
  /** Words of the trade lists, with how often they stand there. */
  readonly known: ReadonlyMap<string, number>;
  readonly ownWords: ReadonlySet<string>;
  /** Own words that stand for nothing but themselves. */
  readonly plainOwn: readonly string[];
  readonly systems: ReadonlyMap<string, unknown>;
  readonly components: ReadonlyMap<string, Component>;
  readonly symptoms: ReadonlyMap<string, Symptom>;
  readonly causes: ReadonlyMap<string, TradeCause>;
  readonly tests: ReadonlyMap<string, TradeTest>;
  readonly lexicon: Lexicon;
  readonly book: WordBook;
  readonly readText: ReadText;
  readonly docOf: (file: Case, text: CaseText) => CaseDoc;
  readonly vocabulary: (memory: Memory) => Vocabulary;
}

const byId = <T extends { readonly id: string }>(items: readonly T[]): ReadonlyMap<string, T> => new Map(items.map((one) => [one.id, one]));

/** The words of the trade lists with their counts; mis-hearings stay out. */
function tradeWords(lists: Lists, trade: Trade, { split, stop }: Analyzer): Map<string, number> {
  const counts = new Map<string, number>();
  const add = (word: string): Map<string, number> => counts.set(word, (counts.get(word) ?? 0) + 1);
  const say = (...texts: readonly string[]): void => {
    for (const { kind, text } of split(texts.join(" . "))) if (kind === "word") add(text);
  };
  for (const one of trade.symptoms) say(one.title, ...one.said_by_customer, ...one.written_by_tech, ...one.conditions);
  for (const [forms, , senses] of lists.abbreviations) say(...forms, ...senses.flatMap(([plain, , decideBy]) => [plain, decideBy]));
  for (const { title, description } of trade.systems) say(title, description);
  for (const { title } of trade.components) say(title);
  for (const { title, fix } of trade.causes) say(title, fix);
  for (const { title, steps, outcomes } of trade.tests) say(title, ...steps, ...outcomes.map(({ means }) => means));
  for (const { text } of trade.cautions) say(text);
  const single = lists.words.own.filter((word) => !word.includes(" "));
  for (const word of new Set([...stop, ...lists.words.negators, ...single])) add(word);
  return counts;
}

/** The shipped lists: without what the shop added. */
const shippedOf = (trade: Trade): Trade => ({
  ...trade,
  causes: trade.causes.filter(({ own }) => !own),
  tests: trade.tests.filter(({ own }) => !own),
});

export function createEngine(lists: Lists, taught: Taught, trade: Trade): Engine {
  if (lists.format !== REASONING_FORMAT || taught.format !== REASONING_FORMAT)
    throw new CopyError("what the service handed out is of another version: update the app with signal");
  const figure = figuresOf(lists.numbers);
  const shipped = shippedOf(trade);
  const reads = analyzer(lists, shipped);
  const hears = spotter(lists, shipped, trade, reads);
  const known = tradeWords(lists, trade, reads);
  const measure = meter(lists, trade);
  const [lexicon, book] = [new Lexicon(), new WordBook()];
  for (const word of [...known.keys()].sort()) book.add(word);
  const short = shortHand(lists, known);
  const ownWords = new Set(lists.words.own.map(fold));
  const meaning = new Set(trade.words.filter(({ means }) => means).map(({ id }) => id));
  const everyday = figure("vocabulary", "EVERYDAY");
  const negators = new Set(lists.words.negators);
  const special = lists.words.everyday;
  const systems = new Map(trade.causes.map(({ id, system }) => [id, system]));
  const docTools = { lexicon, add: (word: string) => book.add(word), meter: measure, systems, surely: figure("casedoc", "SURELY_HEARD") };
  return {
    lists,
    taught,
    trade,
    figure,
    analyzer: reads,
    spotter: hears,
    codes: codesOf(lists),
    lean: leanOf(lists),
    meter: measure,
    carSense: carSense(lists),
    carSteps: lists.car.steps,
    stepsOfTheMake: lists.car.steps_of_the_make,
    mend: mender(lists),
    unitOf: unitsOf(lists),
    beliefs: beliefsOf(lists, trade),
    known,
    ownWords,
    plainOwn: lists.words.own.filter((word) => !meaning.has(word)),
    systems: byId(trade.systems),
    components: byId(trade.components),
    symptoms: byId(trade.symptoms),
    causes: byId(trade.causes),
    tests: byId(trade.tests),
    lexicon,
    book,
    readText: textReader(lists, trade, reads, hears),
    docOf: (file, text) => docOf(file, text, docTools),
    vocabulary: (memory) => ({
      book,
      shortHand: short,
      knows: (word) => known.has(word) || memory.wordFrequency(word) > 0,
      usage(word) {
        if (Object.hasOwn(special, word)) return special[word] ?? everyday;
        if (reads.stop.has(word) || negators.has(word)) return everyday;
        return memory.wordFrequency(word) + (known.get(word) ?? 0);
      },
    }),
  };
}
