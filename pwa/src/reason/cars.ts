/** The kinds of cars the copy's cases name: makes, and the models of each, as the shop writes them most. */

import type { Figure } from "./figures";
import { Names, isAlias, isSyllables, nameKey } from "./names";
import { seldom } from "./seldom";
import { fold } from "./tokens";

export interface Car {
  readonly year: number | null;
  readonly make: string;
  readonly model: string;
  readonly engine: string;
  readonly transmission: string;
  readonly vin: string | null;
  readonly traits: readonly string[];
}

/** Engines kept of each kind: those built within so many years, so many at most. */
interface Kinds {
  readonly yearBand: number;
  readonly most: number;
}

type Pair = readonly [make: string, model: string, times: number];
const NOBODY = new Names(new Map());

export class Cars {
  readonly makes: ReadonlyMap<string, string>;
  readonly models: ReadonlyMap<string, string>;
  readonly makesOf: ReadonlyMap<string, ReadonlySet<string>>;
  /** Every folded word of a make or model. */
  readonly words: ReadonlySet<string>;
  private readonly makeNames: Names;
  private readonly modelNames: Names;
  /** Cars of each make, under no model, and of each model of it, by keys. */
  private readonly held = new Map<string, number>();
  private readonly namesByMake = new Map<string, Names>();
  private built: ReadonlyMap<string, readonly Came[]> | null = null;

  constructor(private readonly cars: readonly Built[]) {
    const pairs = pairsOf(cars);
    const modelsOf = new Map<string, Set<string>>();
    for (const [make, model] of pairs) if (make && model) added(modelsOf, nameKey(make), nameKey(model));
    const names = byKey(pairs, ([make]) => make);
    this.models = byKey(pairs, ([, model]) => model);
    this.makes = usualMakes(names, pairs, modelsOf);
    const byMake = new Map<string, Map<string, string>>();
    const makesOf = new Map<string, Set<string>>();
    for (const [key, models] of modelsOf) {
      const make = this.makes.get(key) ?? "";
      const held = byMake.get(make) ?? new Map<string, string>();
      byMake.set(make, held);
      for (const model of models) {
        held.set(model, this.models.get(model) ?? model);
        added(makesOf, model, make);
      }
    }
    this.makesOf = makesOf;
    for (const [name, model, times] of pairs) {
      const [make, key] = this.keysOf({ make: name, model });
      for (const each of new Set([`${make}\u001f`, `${make}\u001f${key}`])) this.held.set(each, (this.held.get(each) ?? 0) + times);
    }
    for (const [make, held] of byMake) this.namesByMake.set(make, new Names(held));
    this.makeNames = new Names(names);
    this.modelNames = new Names(this.models);
    this.words = new Set(pairs.flatMap(([make, model]) => fold(`${make} ${model}`).replaceAll("-", " ").split(/\s+/)).filter(Boolean));
  }

  /** How seldom its make and its model are among the cars; 1 where not known. */
  rarity(car: Pick<Car, "make" | "model">, figure: Figure): readonly [make: number, model: number] {
    const [make, model] = this.keysOf(car);
    const rare = (name: string): number => seldom(this.held.get(`${make}\u001f${name}`) ?? 0, this.cars.length, figure);
    return [make ? rare("") : 1, model ? rare(model) : 1];
  }

  private keysOf(car: Pick<Car, "make" | "model">): readonly [make: string, model: string] {
    return [nameKey(this.sameSpelling(car).make), nameKey(car.model)];
  }

  makeMeant(typed: string): string | null {
    const found = this.makeNames.meant(typed, { initials: true });
    return found === null ? null : (this.makes.get(nameKey(found)) ?? null);
  }

  /** The models of a make, however it is spelt; all models where it is empty. */
  modelsBy(make: string): Names {
    if (!make) return this.modelNames;
    return this.namesByMake.get(this.makes.get(nameKey(make)) ?? "") ?? NOBODY;
  }

  /** With the make as the shop writes it most. */
  sameSpelling<T extends Pick<Car, "make">>(car: T): T {
    const make = this.makes.get(nameKey(car.make)) ?? car.make;
    return make === car.make ? car : { ...car, make };
  }

  /** With make and model as the shop writes them, where it has written them. */
  named(car: Car): Car {
    const make = this.make(car) ?? car.make;
    const model = car.model ? this.modelsBy(make).meant(car.model) : null;
    return { ...car, make, model: model ?? car.model };
  }

  /** Engines that came with this make and model; those of the very year first, of these the most usual. */
  engines({ year, make, model }: Car, { yearBand, most }: Kinds): readonly string[] {
    this.built ??= builtBy(this.cars);
    const counts = new Map<string, { readonly apart: boolean; readonly engine: string; times: number }>();
    for (const { car, times } of model ? (this.built.get(nameKey(model)) ?? []) : []) {
      const fits = (!make || !car.make || nameKey(car.make) === nameKey(make)) && (year === null || car.year === null || Math.abs(car.year - year) <= yearBand);
      if (!fits) continue;
      const apart = car.year !== year;
      const held = counts.get(`${apart} ${car.engine}`) ?? { apart, engine: car.engine, times: 0 };
      held.times += times;
      counts.set(`${apart} ${car.engine}`, held);
    }
    const order = [...counts.values()].sort((a, b) => Number(a.apart) - Number(b.apart) || b.times - a.times || (a.engine < b.engine ? -1 : 1));
    const first = new Map<string, string>();
    for (const { engine } of order) if (!first.has(nameKey(engine))) first.set(nameKey(engine), engine);
    return [...first.values()].slice(0, most);
  }

  private make({ make: typed, model }: Car): string | null {
    if (!typed) return null;
    const make = this.makeMeant(typed);
    const lettersOnly = make !== null && nameKey(typed) !== nameKey(make) && (isSyllables(typed, make) || isSyllables(make, typed));
    if (make === null || !model || !lettersOnly) return make;
    // Two letters say little: the model must bear them out.
    return this.modelsBy(make).meant(model) === null ? null : make;
  }
}

type Built = Pick<Car, "year" | "make" | "model" | "engine">;

/** One kind of car and how many of it came. */
interface Came {
  readonly car: Built;
  times: number;
}

function builtBy(cars: readonly Built[]): Map<string, readonly Came[]> {
  const kinds = new Map<string, Map<string, Came>>();
  for (const car of cars) {
    if (!car.model || !car.engine) continue;
    const model = nameKey(car.model);
    const held = kinds.get(model) ?? new Map<string, Came>();
    const kind = [car.make, car.year, car.engine].join("\u001f");
    const came = held.get(kind) ?? { car, times: 0 };
    came.times += 1;
    kinds.set(model, held.set(kind, came));
  }
  return new Map([...kinds].map(([model, held]) => [model, [...held.values()]]));
}

function added(into: Map<string, Set<string>>, key: string, value: string): void {
  const held = into.get(key) ?? new Set<string>();
  into.set(key, held.add(value));
}

function pairsOf(cars: Iterable<Pick<Car, "make" | "model">>): Pair[] {
  const counts = new Map<string, number>();
  for (const { make, model } of cars) {
    const key = `${make}\u001f${model}`;
    if (make || model) counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].map(([key, times]) => [key.split("\u001f")[0] ?? "", key.split("\u001f")[1] ?? "", times]);
}

/** Names by key, each as it is written most. */
function byKey(pairs: readonly Pair[], of: (pair: Pair) => string): Map<string, string> {
  const counts = new Map<string, number>();
  for (const pair of pairs) if (of(pair)) counts.set(of(pair), (counts.get(of(pair)) ?? 0) + pair[2]);
  const usual = [...counts].sort(([a, m], [b, n]) => m - n || (a < b ? -1 : 1));
  return new Map(usual.map(([name]) => [nameKey(name), name] as const).filter(([key]) => key));
}

/** A name that is another's short form is that make where both have a model in common. */
function usualMakes(names: ReadonlyMap<string, string>, pairs: readonly Pair[], modelsOf: ReadonlyMap<string, ReadonlySet<string>>): Map<string, string> {
  const times = new Map<string, number>();
  for (const [make, , count] of pairs) times.set(nameKey(make), (times.get(nameKey(make)) ?? 0) + count);
  const common = (one: string, other: string): boolean => [...(modelsOf.get(one) ?? [])].some((model) => modelsOf.get(other)?.has(model));
  const held = new Map<string, string>();
  const usual = [...names.keys()].sort((a, b) => (times.get(b) ?? 0) - (times.get(a) ?? 0) || (a < b ? -1 : 1));
  for (const key of usual) {
    const same = [...held.keys()].find((other) => common(key, other) && isAlias(names.get(key) ?? "", names.get(other) ?? ""));
    held.set(key, same === undefined ? (names.get(key) ?? key) : (held.get(same) ?? same));
  }
  return held;
}
