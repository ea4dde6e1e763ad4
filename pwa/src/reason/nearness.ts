/** How near two cars are, and what a car is known to have and not to have. */

import type { Lists } from "../wire-reasoning";
import type { Car } from "./cars";
import { figuresOf } from "./figures";
import { nameKey } from "./names";
import { fold } from "./tokens";

export interface Nearness {
  /** How far up each step two cars are, in [0, 1] and never rising. */
  readonly steps: readonly number[];
  readonly why: string;
}

export interface CarSense {
  readonly near: (a: Car, b: Car) => Nearness;
  /** Traits known to be there, and known to be absent. */
  readonly traits: (car: Car) => { readonly present: ReadonlySet<string>; readonly absent: ReadonlySet<string> };
}

interface Engine {
  readonly size?: string;
  readonly fuel?: string;
}

const named = ({ make, model }: Car): boolean => Boolean(make || model);
const same = (a: string, b: string): boolean => Boolean(a) && nameKey(a) === nameKey(b);

export function carSense({ car, numbers }: Lists): CarSense {
  const figure = figuresOf(numbers);
  const [band, far, unknown, other] = ["YEAR_BAND", "FAR", "YEARS_UNKNOWN", "OTHER_ENGINE"].map((name) => figure("nearness", name)) as [number, number, number, number];
  const [diesel, petrol] = [new RegExp(car.diesel), new RegExp(car.petrol)];
  const patterns = car.traits.map(([pattern, traits]) => [new RegExp(pattern), traits] as const);
  const engines = new Map<string, Engine>();

  function engineOf(words: string): Engine {
    const known = engines.get(words);
    if (known) return known;
    const text = fold(words);
    const size = /(?<![\d.])(\d{1,2}[.,]\d)(?!\d)\s*l?/.exec(text)?.[1]?.replace(",", ".");
    const cubic = /(?<!\d)(\d{3,4})\s*(?:cc|ccm|cm3)\b/.exec(text)?.[1];
    const litres = size ?? (cubic === undefined ? undefined : (Number(cubic) / 1000).toFixed(1));
    const fuel = diesel.test(text) ? "diesel" : petrol.test(text) ? "petrol" : undefined;
    const fresh = { ...(litres !== undefined && { size: litres }), ...(fuel !== undefined && { fuel }) };
    engines.set(words, fresh);
    return fresh;
  }

  /** Whether size and fuel agree; null where either is not known. */
  function sameEngine(a: Car, b: Car): boolean | null {
    const [one, two] = [engineOf(a.engine), engineOf(b.engine)];
    const shared = (["size", "fuel"] as const).filter((part) => one[part] !== undefined && two[part] !== undefined);
    return shared.length ? shared.every((part) => one[part] === two[part]) : null;
  }

  const on = (steps: number, why: string, years = 1): Nearness => ({
    steps: car.steps.map((_, n) => (n < steps ? 1 : 0) * (n === 4 ? years : 1)),
    why,
  });

  function sameModel(a: Car, b: Car): Nearness {
    const apart = a.year !== null && b.year !== null ? Math.abs(a.year - b.year) : null;
    const engine = sameEngine(a, b);
    const near = apart === null ? unknown : Math.min(1, Math.max(0, (far - apart) / (far - band)));
    const years = apart === null ? [] : [apart === 0 ? "same year" : `${apart} year${apart > 1 ? "s" : ""} apart`];
    const why = ["same model", ...years, ...(engine === null ? [] : [engine ? "same engine" : "other engine"])].join(", ");
    if (engine && apart !== null && apart <= band) return on(6, why);
    return on(5, why, near * (engine === false ? other : 1));
  }

  function near(a: Car, b: Car): Nearness {
    if (a.vin && a.vin === b.vin) return on(7, "the same car");
    if (!named(a) || !named(b)) return on(1, "");
    if (same(a.model, b.model) && (same(a.make, b.make) || !(a.make && b.make))) return sameModel(a, b);
    const engine = sameEngine(a, b);
    if (!same(a.make, b.make)) {
      if (engine) return on(1, "same kind of engine, other make");
      return on((a.make && b.make) || (a.model && b.model) ? 0 : 1, "");
    }
    if (engine) return on(3, "same engine, other model of the make");
    return on(2, a.model && b.model ? "same make, other model" : "same make");
  }

  function absentByKind(text: string, present: ReadonlySet<string>): readonly string[] {
    const [burns, volts] = [present.has("combustion"), present.has("high_voltage")];
    if (burns && !volts) return ["high_voltage", "plug_in", "electric_compressor"];
    return volts && !burns && /\b(?:electric|bev|ev)\b/.test(text) ? [...car.combustion_only, "manual"] : [];
  }

  function traits({ engine, transmission, traits: given }: Car): ReturnType<CarSense["traits"]> {
    const text = fold(`${engine} ; ${transmission}`);
    const present = new Set([...given, ...patterns.flatMap(([pattern, found]) => (pattern.test(text) ? found : []))]);
    const { fuel } = engineOf(engine);
    if (fuel !== undefined) [fuel, "combustion"].forEach((each) => present.add(each));
    if (present.has("petrol") || present.has("diesel")) present.add("combustion");
    if (present.has("plug_in")) present.add("high_voltage");
    if (present.has("direct_injection") || present.has("port_injection")) ["petrol", "combustion"].forEach((each) => present.add(each));
    if (present.has("all_wheel")) present.add("propshaft");
    const gone = [...[...present].flatMap((trait) => car.excludes[trait] ?? []), ...absentByKind(text, present)];
    return { present, absent: new Set(gone.filter((trait) => !present.has(trait))) };
  }

  return { near, traits };
}
