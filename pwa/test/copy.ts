/** The demo shop's copy as a phone keeps it, with questions and the service's answers. */

import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { createEngine } from "../src/reason/engine";
import type { Engine } from "../src/reason/engine";
import { Memory } from "../src/reason/memory";
import { EMPTY_TRADE, TRADE_LISTS, TRADE_PARSERS, parseCase, read } from "../src/wire";
import type { AdviceBody, Case, Parser, Trade } from "../src/wire";
import type { Lists, Taught } from "../src/wire-reasoning";

type Ranked = readonly (readonly [id: string, value: number])[];

export interface Asked {
  readonly q: AdviceBody & { readonly skill: number; readonly rights?: readonly string[] };
  readonly kind: string;
  readonly without: readonly string[];
  readonly a: { readonly cases: Ranked; readonly causes: Ranked; readonly tests: Ranked; readonly unlisted: number; readonly next: readonly [string, string | null] };
}

interface Recorded {
  readonly trade: Readonly<Record<string, readonly unknown[]>>;
  readonly lists: Lists;
  readonly shop: Taught;
  readonly cases: readonly unknown[];
  readonly asked: readonly Asked[];
}

const recorded = (): Recorded => JSON.parse(gunzipSync(readFileSync(new URL("data/reasoning.json.gz", import.meta.url))).toString()) as Recorded;

export interface Copy {
  readonly lists: Lists;
  readonly taught: Taught;
  readonly trade: Trade;
  readonly cases: readonly Case[];
  readonly asked: readonly Asked[];
}

export function demoCopy(): Copy {
  const { trade, lists, shop, cases, asked } = recorded();
  const parsed = TRADE_LISTS.filter((name) => trade[name]).map((name) => [name, (trade[name] ?? []).map((item) => read(TRADE_PARSERS[name] as Parser<unknown>, item))]);
  return { lists, taught: shop, trade: { ...EMPTY_TRADE, ...(Object.fromEntries(parsed) as Partial<Trade>) }, cases: cases.map((one) => read(parseCase, one)), asked };
}

export function engineOf({ lists, taught, trade }: Copy): Engine {
  return createEngine(lists, taught, trade);
}

export function memoryOf(engine: Engine, cases: readonly Case[]): Memory {
  const { figure, analyzer, lexicon, book, codes } = engine;
  return new Memory(cases.map((one) => engine.docOf(one, engine.readText(one))), { figure, analyzer, lexicon, book, codes });
}
