/** A complaint as the engine understands it: mended, heard, its codes found, its readings judged. */

import { readVin } from "../model/vin";
import type { Advice, AdviceBody } from "../wire";
import type { Analysis } from "./analyze";
import { carOf, withGiven } from "./casedoc";
import type { Car } from "./cars";
import { canonicalCode } from "./codes";
import type { Engine } from "./engine";
import { phraseKey } from "./mend";
import type { ReadAs } from "./mend";
import type { Memory } from "./memory";
import { nameKey } from "./names";
import type { JudgedReading } from "./readings";
import { carSaid } from "./said";
import { formKey } from "./senses";
import { stem } from "./stem";
import type { Heard, Mentioned } from "./symptoms";
import { fold } from "./tokens";

export interface Question {
  readonly body: AdviceBody;
  readonly mended: string;
  readonly analysis: Analysis;
  readonly readAs: readonly ReadAs[];
  /** Given ones at chance 1, heard ones below. */
  readonly heard: readonly Heard[];
  readonly codes: readonly string[];
  readonly mentioned: readonly Mentioned[];
  readonly judged: readonly JudgedReading[];
  readonly car: Car;
  readonly origins: Origins;
  readonly present: ReadonlySet<string>;
  readonly absent: ReadonlySet<string>;
  /** Suspected systems, first suspect first, with their shares of the suspicion. */
  readonly systems: ReadonlyMap<string, number>;
}

/** A year in the future is as good as any: nothing here knows the time. */
const NO_LIMIT = new Date(9999, 0);
const CAR = ["year", "make", "model", "engine"] as const;

type Origins = NonNullable<Advice["car"]>["origins"];

interface Known {
  readonly car: Car;
  readonly readAs: readonly ReadAs[];
  /** Where each known field of the car comes from. */
  readonly origins: Origins;
}

/** With the year that the VIN holds where none was typed; the maker by a VIN only the service knows. */
function withVinYear(car: Car): Car {
  if (!car.vin || car.year !== null) return car;
  const { year, sure, problem } = readVin(car.vin, NO_LIMIT);
  return problem || !sure ? car : { ...car, year };
}

function originsOf(car: Car, named: Car, marked: readonly string[]): Origins {
  const from = (name: (typeof CAR)[number]): "typed" | "vin" | "words" => (named[name] ? (marked.includes(name) ? "vin" : "typed") : "words");
  return Object.fromEntries(CAR.filter((name) => car[name]).map((name) => [name, from(name)]));
}

/** The car as the shop writes it, filled from the words where it is empty. */
function carKnown(body: AdviceBody, { engine, memory, right }: Context): Known {
  const { vehicle } = body;
  const given = carOf((vehicle ?? {}) as Partial<Car>);
  const typed = withVinYear(given);
  const marked = [...((vehicle ?? {}) as { from_vin?: readonly string[] }).from_vin ?? [], ...(typed.year === given.year ? [] : ["year"])];
  const known = (car: Car, more: readonly ReadAs[] = []): Known => ({ car, readAs: [...readAs, ...more], origins: originsOf(car, named, marked) });
  const full = memory.cars.named(typed);
  const kept = (name: "make" | "model"): string => (typed[name] && right.has(fold(typed[name])) ? typed[name] : full[name]);
  const named = { ...full, make: kept("make"), model: kept("model") };
  const respelt = (["make", "model"] as const).filter((name) => nameKey(typed[name]) !== nameKey(named[name]));
  const readAs: ReadAs[] = respelt.map((name) => ({ typed: typed[name], read: named[name], kind: "car", at: null }));
  if (named.make && named.model) return known(named);
  const { stop, kindred } = engine.analyzer;
  const ordinary = (word: string): boolean => engine.known.has(word) || stop.has(word) || kindred(stem(word)).length > 0;
  const said = carSaid(body.complaint, memory.cars, { ordinary, unitOf: engine.unitOf });
  if (!said || right.has(fold(said.typed))) return known(named);
  const other = (["make", "model"] as const).some((name) => named[name] && said.car[name] && nameKey(named[name]) !== nameKey(said.car[name] ?? ""));
  const empty = CAR.filter((name) => said.car[name] && !named[name]);
  if (other || !empty.length) return known(named);
  const filled = { ...named, ...Object.fromEntries(empty.map((name) => [name, said.car[name]])) };
  return known(filled, [{ typed: said.typed, read: said.words, kind: "car", at: null }]);
}

interface Context {
  readonly engine: Engine;
  readonly memory: Memory;
  /** Words that are right as they stand. */
  readonly right: ReadonlySet<string>;
}

/** Chance by symptom after the conditions the fault shows in; a sure symptom stays sure. */
function inTheirLight(said: ReadonlyMap<string, number>, shows: readonly string[], { engine }: Context): Heard[] {
  const heard = [...said].map(([symptom, chance]) => {
    const factor = engine.lean.fit(symptom, shows);
    return { symptom, chance: (chance * factor) / (chance * factor + 1 - chance) };
  });
  return heard.sort((a, b) => b.chance - a.chance);
}

function systemsOf({ heard, mentioned, codes }: Pick<Question, "heard" | "mentioned" | "codes">, { engine }: Context): ReadonlyMap<string, number> {
  const weights = new Map<string, number>();
  const add = (system: string, weight: number): Map<string, number> => weights.set(system, (weights.get(system) ?? 0) + weight);
  for (const { symptom, chance } of heard)
    (engine.symptoms.get(symptom)?.systems ?? []).forEach((system, place) => add(system, chance / (1 + place)));
  for (const { component, weight } of mentioned) add(engine.components.get(component)?.system ?? "", weight);
  for (const code of codes) for (const system of engine.codes.hints(code).slice(0, 2)) add(system, 0.5);
  const likely = [...weights].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  const { figure } = engine;
  const suspected = likely.slice(0, figure("question", "MOST_SYSTEMS")).filter(([, weight]) => weight >= figure("question", "SUSPECT"));
  const total = suspected.reduce((sum, [, weight]) => sum + weight, 0);
  return new Map(suspected.map(([system, weight]) => [system, weight / total]));
}

const sensesRead = ({ expansions }: Analysis): ReadAs[] => {
  const told = expansions.filter(({ unsure, own }) => unsure || own);
  const rows = told.map(({ typed, plain, own }) => ({ typed, read: plain, kind: own ? "own" : "sense", at: null }) as const);
  return rows.filter((row, n) => rows.findIndex((each) => each.typed === row.typed && each.read === row.read) === n);
};

export function understand(body: AdviceBody, engine: Engine, memory: Memory): Question {
  const asTyped = body.as_typed ?? [];
  const context: Context = { engine, memory, right: new Set([...engine.ownWords, ...asTyped.map(fold)]) };
  const { car, readAs, origins } = carKnown(body, context);
  const names = [...memory.cars.words, ...readAs.flatMap(({ typed }) => fold(typed).split(/\s+/))];
  const kept = new Set([...names, ...engine.ownWords, ...asTyped.map(phraseKey)]);
  const { text: mended, changes } = engine.mend(body.complaint, engine.vocabulary(memory), kept);
  const { analyzer } = engine;
  const bare = new Set([...asTyped, ...engine.plainOwn].map((form) => formKey(form, analyzer.split)));
  const analysis = analyzer.analyze(mended, bare);
  const given = (body.codes ?? []).map((code) => canonicalCode(code)).filter((code) => code !== null);
  const codes = [...new Set([...given, ...analysis.codes])];
  const said = withGiven(body.symptoms ?? [], engine.spotter.hear(analysis));
  const heard = inTheirLight(said, body.shows_when ?? [], context);
  const mentioned = engine.spotter.mentioned(analysis);
  return {
    body,
    mended,
    analysis,
    readAs: [...readAs, ...changes, ...sensesRead(analysis)],
    heard,
    codes,
    mentioned,
    judged: engine.meter.judgeAll(body.readings ?? []),
    car,
    origins,
    ...engine.carSense.traits(car),
    systems: systemsOf({ heard, mentioned, codes }, context),
  };
}
