/** Readings as the engine weighs them: judged on the phone, likened to others, and as outcomes of tests. */

import { FormulaError, namesIn, worked } from "../model/arithmetic";
import { expectation } from "../model/expected";
import { given } from "../model/given";
import { judge } from "../model/local-judge";
import { convert } from "../model/units";
import type { Judged, OutcomeRule, Quantity, ReadingBody, Trade } from "../wire";
import type { Lists } from "../wire-reasoning";
import { figuresOf } from "./figures";
import { workshopOf } from "./gathered";
import { deriver } from "./worked";

/** What to compare of a reading, with what the instrument cannot tell and half the width of the range. */
interface Likened {
  readonly what: string;
  readonly value: number;
  readonly instrument: number;
  readonly scale: number;
}

export interface JudgedReading {
  readonly reading: ReadingBody;
  readonly verdict: string;
  readonly good: boolean | null;
  readonly likened: Likened | null;
  /** As a member reads it. */
  readonly shown: Judged;
  /** The quantities it was worked out from; none where it was measured. */
  readonly of: readonly string[];
}

interface Agreement {
  readonly agree: number;
  readonly contradict: number;
  /** The agreeing ones. */
  readonly agreeing: readonly JudgedReading[];
}

export interface Meter {
  /** In step with the readings, and after them what they say together. */
  readonly judgeAll: (readings: readonly ReadingBody[]) => readonly JudgedReading[];
  readonly agreement: (asked: readonly JudgedReading[], past: readonly JudgedReading[]) => Agreement;
  /** Whether the reading meets the rule of an outcome. */
  readonly meets: (reading: ReadingBody, rule: OutcomeRule) => boolean;
}

// What does not change from one test point to the next while a car is in the bay.
const LASTING = new Set(
  "altitude_m ambient_c battery_ah battery_type cap_rating_kpa engine_litres engine_type fuel_type label_cca label_grams placard_kpa rated_a refrigerant set_kpa".split(" "),
);
const WIDE: Readonly<Record<string, readonly [number, number]>> = { drop_ohm: [0.05, 0.5], flat_hours: [0.05, 0.5] };

const decades = (value: number): number => Math.log10(Math.max(value, 0.01));
const whenOf = (reading: ReadingBody): string => reading.when ?? "before";

export function meter(lists: Lists, trade: Trade): Meter {
  const figure = figuresOf(lists.numbers);
  const [goodShared, badShared, unjudged] = [figure("readings", "GOOD"), figure("readings", "BAD"), figure("readings", "UNJUDGED")];
  const quantities = new Map(trade.quantities.map((one) => [one.id, one]));

  function likenedOf(reading: ReadingBody, quantity: Quantity): Likened | null {
    const own = convert(reading.value, reading.unit, quantity.unit);
    const limits = expectation(quantity, given(quantity, reading.conditions, trade));
    if (own === null || limits.kind !== "range") return null;
    const wide = WIDE[quantity.id];
    if (wide) return { what: "decades", value: decades(own), instrument: wide[0], scale: wide[1] };
    const log = quantity.unit.startsWith("ohm");
    const [value, low, high] = log ? [decades(own), decades(limits.low), decades(limits.high)] : [own, limits.low, limits.high];
    const scale = Math.max((high - low) / 2, 1e-9);
    const floor = log ? figure("likened", "LOG_INSTRUMENT") : Math.min(lists.instruments[quantity.unit] ?? 0, scale / 2);
    const instrument = Math.max(floor, figure("likened", "SHARE_OF_SCALE") * scale);
    const moves = quantity.expected.kind === "table" || namesIn(quantity.expected.low).length + namesIn(quantity.expected.high).length > 0;
    return moves ? { what: "from the expected", value: value - (low + high) / 2, instrument, scale } : { what: "value", value, instrument, scale };
  }

  function judged(reading: ReadingBody, shown = judge(reading, trade), of: readonly string[] = []): JudgedReading {
    const { verdict, good } = shown;
    const quantity = quantities.get(reading.quantity);
    const said = quantity && !["unknown", "implausible"].includes(verdict);
    return { reading, verdict, good, likened: said ? likenedOf(reading, quantity) : null, shown, of };
  }

  /** A lasting condition said at one reading holds for the others of the same moment. */
  function lent(readings: readonly ReadingBody[], place: number): ReadingBody {
    const reading = readings[place] as ReadingBody;
    const own = reading.conditions ?? {};
    const wanted = new Set((quantities.get(reading.quantity)?.conditions ?? []).filter((name) => LASTING.has(name) && !(name in own)));
    const lenders = [...readings.slice(place + 1).reverse(), ...readings.slice(0, place)];
    const found = lenders
      .filter((each) => whenOf(each) === whenOf(reading))
      .flatMap(({ conditions }) => Object.entries(conditions ?? {}).filter(([name]) => wanted.has(name)));
    return found.length ? { ...reading, conditions: { ...own, ...Object.fromEntries(found) } } : reading;
  }

  function similarity(a: Likened, b: Likened): number {
    if (a.what !== b.what) return 0;
    const beyond = Math.abs(a.value - b.value) - Math.max(a.instrument, b.instrument);
    return beyond <= 0 ? 1 : Math.exp(-((beyond / Math.max(a.scale, b.scale)) ** 2));
  }

  /** Weight for and against of two readings of one quantity. */
  function pair(a: JudgedReading, b: JudgedReading): readonly [number, number] {
    const close = a.likened && b.likened ? similarity(a.likened, b.likened) : null;
    if (a.good === null || b.good === null) return close === null ? [0, 0] : [unjudged * close, (unjudged * (1 - close)) / 2];
    if (a.good !== b.good) return [0, 1];
    const weight = a.good ? goodShared : badShared;
    return a.verdict === b.verdict ? [weight * (0.5 + 0.5 * (close ?? 0)), 0] : [0, weight / 2];
  }

  const wordsOf = (point: string): ReadonlySet<string> => new Set(point.toLowerCase().split(/\s+/));

  const sameOf = (one: JudgedReading, other: JudgedReading): boolean => one.of.join() === other.of.join();

  function comparable(one: JudgedReading, other: JudgedReading): boolean {
    const [a, b] = [one.reading, other.reading];
    if (a.quantity !== b.quantity || whenOf(b) !== "before") return false;
    if (one.of.length && other.of.length && !sameOf(one, other)) return false;
    if (!a.point || !b.point) return true;
    const theirs = wordsOf(b.point);
    return [...wordsOf(a.point)].some((word) => theirs.has(word));
  }

  const derive = deriver(workshopOf(lists, trade), (reading) => judge(reading, trade));

  return {
    judgeAll(readings) {
      const given = readings.map((_, place) => lent(readings, place));
      const typed = given.map((reading, place) => ({ ...judged(reading), reading: readings[place] as ReadingBody }));
      const plausible = given.filter((_, place) => typed[place]?.verdict !== "implausible");
      return [...typed, ...derive(plausible).map(({ reading, judged: shown, of }) => judged(reading, shown, of))];
    },
    agreement(asked, past) {
      let [agree, contradict] = [0, 0];
      const agreeing: JudgedReading[] = [];
      const both = asked.filter((one) => one.of.length && past.some((other) => other.reading.quantity === one.reading.quantity && sameOf(one, other)));
      // Where both have a value worked out from the same readings, it stands for them.
      const stoodFor = new Set(both.flatMap(({ of }) => of));
      for (const one of asked) {
        if (whenOf(one.reading) === "after" || stoodFor.has(one.reading.quantity)) continue;
        const twins = past.filter((other) => comparable(one, other)).map((other) => pair(one, other));
        const best = twins.reduce<readonly [number, number] | null>((held, each) => (held && held[0] - held[1] >= each[0] - each[1] ? held : each), null);
        if (best) [agree, contradict] = [agree + best[0], contradict + best[1]];
        if (best && best[0] > best[1]) agreeing.push(one);
      }
      return { agree, contradict, agreeing };
    },
    meets(reading, rule) {
      const quantity = quantities.get(reading.quantity);
      const own = quantity ? convert(reading.value, reading.unit, quantity.unit) : null;
      if (!quantity || own === null || rule.quantity !== quantity.id) return false;
      if (own < (quantity.hard_low ?? -Infinity) || own > (quantity.hard_high ?? Infinity)) return false;
      const { values } = given(quantity, reading.conditions, trade);
      const bound = (limit: OutcomeRule["min"], fits: (value: number) => boolean): boolean => limit === null || fits(worked(limit, values));
      try {
        return bound(rule.min, (v) => own >= v) && bound(rule.max, (v) => own <= v) && bound(rule.above, (v) => own > v) && bound(rule.below, (v) => own < v);
      } catch (error) {
        // A condition the rule needs was not given.
        if (error instanceof FormulaError) return false;
        throw error;
      }
    },
  };
}
