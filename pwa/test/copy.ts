/** The demo shop's copy as a phone keeps it, with questions and the service's answers. */

import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { createEngine } from "../src/reason/engine";
import type { Engine } from "../src/reason/engine";
import { Memory } from "../src/reason/memory";
import { EMPTY_TRADE, TRADE_LISTS, TRADE_PARSERS, parseCase, read } from "../src/wire";
import type { AdviceBody, CallQuestion, Case, Conflict, Parser, PriceSpan, RuledOut, Trade, Why } from "../src/wire";
import type { Lists, Taught } from "../src/wire-reasoning";

/** The service's answer, its beginning and whole what is short. */
export interface Answer {
  readonly cases: Ranked;
  readonly causes: Ranked;
  readonly tests: Ranked;
  readonly unlisted: number;
  readonly next: readonly [string, string | null];
  readonly because: string;
  /** Their first sentences. */
  readonly cautions: readonly string[];
  /** What moved the first cause. */
  readonly moved: readonly string[];
  readonly dropped: readonly (readonly [cause: string, by: string])[];
  readonly conflicts: readonly Conflict[];
  readonly ruled_out: readonly RuledOut[];
  readonly price: PriceSpan | null;
  readonly questions: readonly CallQuestion[];
  readonly readings: readonly (readonly [quantity: string, value: number, unit: string, verdict: string, good: boolean | null, of: readonly string[]])[];
  readonly read_as: readonly (readonly [typed: string, read: string, kind: string])[];
  readonly car: { readonly origins: Readonly<Record<string, string>>; readonly engines: readonly string[] };
  readonly why: readonly Why[];
}

type Ranked = readonly (readonly [id: string, value: number])[];

export interface Asked {
  readonly q: AdviceBody & { readonly skill: number; readonly rights?: readonly string[] };
  readonly kind: string;
  readonly without: readonly string[];
  readonly a: Answer;
}

interface Recorded {
  readonly trade: Readonly<Record<string, readonly unknown[]>>;
  readonly lists: Lists;
  readonly shop: Taught;
  readonly cases: readonly unknown[];
  readonly asked: readonly Asked[];
  /** Jobs whose results contradict each other, and jobs with readings that others follow from. */
  readonly beside: readonly Asked[];
  readonly refiled: Refiled;
}

/** The same shop with many cases under systems of its own: what they are filed as, and its answers. */
interface Refiled {
  readonly cases: Readonly<Record<string, Pick<Case, "cause" | "cause_title" | "cause_system">>>;
  readonly asked: readonly Asked[];
}

const recorded = (): Recorded => JSON.parse(gunzipSync(readFileSync(new URL("data/reasoning.json.gz", import.meta.url))).toString()) as Recorded;

export interface Copy {
  readonly lists: Lists;
  readonly taught: Taught;
  readonly trade: Trade;
  readonly cases: readonly Case[];
  readonly asked: readonly Asked[];
  /** Jobs whose results contradict each other, and jobs with readings that others follow from. */
  readonly beside: readonly Asked[];
  readonly refiled: Refiled;
}

export function demoCopy(): Copy {
  const { trade, lists, shop, cases, asked, beside, refiled } = recorded();
  const parsed = TRADE_LISTS.filter((name) => trade[name]).map((name) => [name, (trade[name] ?? []).map((item) => read(TRADE_PARSERS[name] as Parser<unknown>, item))]);
  return { lists, taught: shop, trade: { ...EMPTY_TRADE, ...(Object.fromEntries(parsed) as Partial<Trade>) }, cases: cases.map((one) => read(parseCase, one)), asked, beside, refiled };
}

export function engineOf({ lists, taught, trade }: Copy): Engine {
  return createEngine(lists, taught, trade);
}

export function memoryOf(engine: Engine, cases: readonly Case[]): Memory {
  const { figure, analyzer, lexicon, book, codes } = engine;
  return new Memory(cases.map((one) => engine.docOf(one, engine.readText(one))), { figure, analyzer, lexicon, book, codes });
}
