/** A car named in free text, such as "09 tarrow linnet 1.6 wont start". */

import type { Car, Cars } from "./cars";
import { nameKey } from "./names";
import type { UnitOf } from "./tokens";
import { MAX_CHARS, fold } from "./tokens";

export interface Said {
  readonly typed: string;
  readonly car: Partial<Pick<Car, "year" | "make" | "model" | "engine">>;
  readonly words: string;
}

interface Word {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

interface Span {
  readonly first: number;
  readonly end: number;
  readonly name: string;
}

const [LONGEST, REACH, LEAST_LETTERS, MOST_WORDS, BEGINNING] = [5, 2, 4, 600, 8];
const WORD = /'?[\p{L}\p{N}]+(?:[.,]\d+[\p{L}\p{N}]*)?/gu;
const YEAR = /^(?:19[5-9]|20[0-4])\d$/;
const SIZE = /^[0-8][.,]\d(?:l|i|d)?$/;
const FUEL = /^(?:petrol|gasoline|diesel|dsl|hybrid|electric|[a-z]?di|tdi|cdi|hdi|dci|crdi|tdci|cdti|turbo)$/;

function yearOf(word: string): number | null {
  if (YEAR.test(word)) return Number(word);
  if (!/^'?\d\d$/.test(word)) return null;
  const short = Number(word.replace(/^'/, ""));
  return short >= 50 ? 1900 + short : 2000 + short;
}

/** `ordinary` are words anybody writes, which name a car only beside a make or a year. */
class Looked {
  constructor(
    private readonly words: readonly Word[],
    private readonly cars: Cars,
    private readonly ordinary: (word: string) => boolean,
    private readonly unitOf: UnitOf,
  ) {}

  private text(at: number): string {
    return this.words[at]?.text ?? "";
  }

  names(): readonly [Span | null, Span | null] {
    let first: Span | null = null;
    for (const make of this.makes()) {
      const model = this.modelBy(make);
      if (model || this.yearBy(make.first, make.end)) return [make, model];
      first ??= make;
    }
    return first ? [first, null] : this.modelAlone();
  }

  /** A year that begins the text before an engine size or a word nobody writes but as a name. */
  onlyYear(): Span | null {
    if (this.words.length < 2 || !YEAR.test(this.text(0))) return null;
    const next = this.text(1);
    if (!SIZE.test(next) && (!/^\p{L}+$/u.test(next) || this.ordinary(next))) return null;
    return { first: 0, end: 1, name: this.text(0) };
  }

  private *makes(): Generator<Span> {
    for (let at = 0; at < this.words.length; at += 1) {
      const span = this.exact(at, this.cars.makes);
      if (span && (!this.plain(span) || this.yearBefore(at) || this.modelBy(span))) yield span;
      const name = span ? null : this.makeMeant(at);
      if (name !== null) yield { first: at, end: at + 1, name };
    }
  }

  private makeMeant(at: number): string | null {
    const [word, afterYear] = [this.text(at), this.yearBefore(at)];
    if (!/^\p{L}+$/u.test(word) || this.ordinary(word) || !(afterYear || at < BEGINNING)) return null;
    return word.length < LEAST_LETTERS && !afterYear ? null : this.cars.makeMeant(word);
  }

  private exact(at: number, names: ReadonlyMap<string, string>): Span | null {
    for (let size = Math.min(LONGEST, this.words.length - at); size > 0; size -= 1) {
      const name = names.get(nameKey(this.words.slice(at, at + size).map(({ text }) => text).join(" ")));
      if (name !== undefined) return { first: at, end: at + size, name };
    }
    return null;
  }

  private modelBy(make: Span): Span | null {
    const models = this.cars.modelsBy(make.name);
    const places: number[] = [];
    for (let at = make.end; at < Math.min(make.end + REACH, this.words.length); at += 1) places.push(at);
    for (let at = Math.max(0, make.first - REACH); at < make.first; at += 1) places.push(at);
    for (const at of places) {
      const span = this.exact(at, models.byKey);
      if (span) return span;
    }
    const word = this.text(make.end);
    if (word.length < LEAST_LETTERS || this.ordinary(word)) return null;
    const name = models.meant(word);
    return name === null ? null : { first: make.end, end: make.end + 1, name };
  }

  private modelAlone(): readonly [Span | null, Span | null] {
    for (let at = 0; at < this.words.length; at += 1) {
      const span = this.exact(at, this.cars.models);
      if (!span || (this.doubtful(span) && !this.yearBefore(at))) continue;
      const [make, more] = [...(this.cars.makesOf.get(nameKey(span.name)) ?? [])];
      return [make !== undefined && more === undefined ? { ...span, name: make } : null, span];
    }
    return [null, null];
  }

  private plain({ first, end }: Span): boolean {
    return end - first === 1 && this.ordinary(this.text(first));
  }

  private doubtful(span: Span): boolean {
    const said = this.words.slice(span.first, span.end).map(({ text }) => text).join("");
    return said.length < LEAST_LETTERS || /^\d+$/.test(said) || this.plain(span);
  }

  private yearBefore(at: number): boolean {
    return at > 0 && yearOf(this.text(at - 1)) !== null;
  }

  private unit(at: number): boolean {
    return at < this.words.length && this.unitOf(this.text(at), false) !== null;
  }

  yearBy(first: number, end: number): Span | null {
    for (let at = first - 1; at > Math.max(-1, first - 1 - REACH); at -= 1)
      if (yearOf(this.text(at)) && !(this.unit(at + 1) && at + 1 < first)) return { first: at, end: at + 1, name: this.text(at) };
    for (let at = end; at < Math.min(end + REACH, this.words.length); at += 1) {
      const word = this.text(at);
      if ((word.startsWith("'") || word.length === 4) && yearOf(word) && !this.unit(at + 1)) return { first: at, end: at + 1, name: word };
    }
    return null;
  }

  engineBy(from: number): Span | null {
    for (let first = from; first < Math.min(from + REACH, this.words.length); first += 1) {
      const size = this.text(first);
      if (!SIZE.test(size) || this.unit(first + 1)) continue;
      const fuel = this.text(first + 1);
      const plain = size.replace(",", ".");
      return FUEL.test(fuel) ? { first, end: first + 2, name: `${plain} ${fuel}` } : { first, end: first + 1, name: plain };
    }
    return null;
  }
}

/** The first car of the shop's makes and models that the text names; null where it names none. */
export function carSaid(text: string, cars: Cars, { ordinary, unitOf }: { readonly ordinary: (word: string) => boolean; readonly unitOf: UnitOf }): Said | null {
  const shown = text.slice(0, MAX_CHARS);
  const words = [...shown.matchAll(WORD)].slice(0, MOST_WORDS).map((found) => ({ start: found.index, end: found.index + found[0].length, text: fold(found[0]) }));
  const looked = new Looked(words, cars, ordinary, unitOf);
  const [make, model] = looked.names();
  const named = [make, model].filter((span) => span !== null);
  const cut = (spans: readonly Span[]): string => shown.slice(words[Math.min(...spans.map(({ first }) => first))]?.start, words[Math.max(...spans.map(({ end }) => end)) - 1]?.end);
  if (!named.length) {
    const only = looked.onlyYear();
    return only && { typed: cut([only]), car: { year: yearOf(only.name) }, words: only.name };
  }
  const [first, end] = [Math.min(...named.map((span) => span.first)), Math.max(...named.map((span) => span.end))];
  const year = looked.yearBy(first, end);
  const engine = looked.engineBy(year ? Math.max(end, year.end) : end);
  const car = { year: year && yearOf(year.name), make: make?.name ?? "", model: model?.name ?? "", engine: engine?.name ?? "" };
  const spans = [...named, year, engine].filter((span) => span !== null);
  return { typed: cut(spans), car, words: [car.year, car.make, car.model, car.engine].filter(Boolean).join(" ") };
}
