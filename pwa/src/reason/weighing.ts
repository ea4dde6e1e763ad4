/** Weighs everything said together, all of it or with some results left out. */

import type { Engine } from "./engine";
import { tempers } from "./evidence";
import type { Evidence } from "./evidence";
import type { Tried } from "./tried";

export interface Shown {
  readonly label: string;
  readonly column: number;
  readonly test: string;
  readonly log: Float64Array;
}

/** What counts: another prior than that of all hints, which results (1 or 0), the part shown, other than all tried. */
export interface Kept {
  readonly prior?: Float64Array;
  readonly results: readonly number[];
  readonly shown: boolean;
  readonly tried?: readonly Tried[];
}

/**
 * Joint chances, up to one factor for all, of what a thing tried shows: its cause is still there, the fault lies
 * elsewhere, or there were two faults and one is mended.
 */
export interface Split {
  readonly still: number;
  readonly elsewhere: number;
  readonly two: number;
}

const sumOf = (row: Float64Array): number => row.reduce((sum, each) => sum + each, 0);

/** The prior after log-chances of a result; an impossible result changes nothing. */
function bayes(prior: Float64Array, log: Float64Array, most = 0): Float64Array {
  const joint = prior.map((p, n) => p * Math.exp(log[n]! - most));
  const total = sumOf(joint);
  return total > 0 ? joint.map((p) => p / total) : prior;
}

export class Weighing {
  readonly all: Kept;

  constructor(
    readonly prior: Float64Array,
    readonly results: readonly Evidence[],
    readonly shown: Shown | null,
    readonly tried: readonly Tried[],
    private readonly engine: Engine,
  ) {
    this.all = { results: results.map(() => 1), shown: true };
  }

  /** Chances of all causes; they sum to 1, none is 0 or 1. */
  chances(kept: Kept = this.all): Float64Array {
    const singly = this.beforeTried(kept);
    const tried = kept.tried ?? this.tried;
    let joint = this.single(singly, tried);
    for (const each of tried)
      if (each.second > 0) {
        const two = this.twoFaults(each, tried, singly, kept);
        joint = joint.map((p, n) => p + two[n]!);
      }
    const total = sumOf(joint);
    return this.floored(joint.map((p) => p / total), kept);
  }

  /** What the thing tried shows by itself, given all results and nothing else tried. */
  split(each: Tried): Split {
    const kept = { ...this.all, tried: [each] };
    const singly = this.beforeTried(kept);
    const joint = this.single(singly, [each]);
    const sum = (hit: boolean): number => joint.reduce((all, p, n) => all + (Boolean(each.hit[n]) === hit ? p : 0), 0);
    return { still: sum(true), elsewhere: sum(false), two: each.second > 0 ? sumOf(this.twoFaults(each, [each], singly, kept)) : 0 };
  }

  /** The column of the likeliest cause that the thing tried mends, after all results. */
  likeliest({ hit }: Tried, before = this.beforeTried(this.all)): number {
    return hit.reduce((best, yes, n) => (yes && (best < 0 || before[n]! > before[best]!) ? n : best), -1);
  }

  /** Chances after all results, before what was tried. */
  beforeTried(kept: Kept = this.all): Float64Array {
    const { trust } = this.engine.taught;
    const exponents = tempers(this.results, kept.results, this.engine);
    const seen = this.logs((result, n) => (result.objected ? 0 : exponents[n]!));
    let chances = bayes(this.atTemperature(kept.prior ?? this.prior), seen.map((log) => trust * log), trust * Math.max(...seen));
    if (this.shown && kept.shown) chances = bayes(chances, this.shown.log);
    return this.results.some(({ objected }) => objected) ? bayes(chances, this.logs((result, n) => (result.objected ? (kept.results[n] ?? 1) : 0))) : chances;
  }

  private logs(exponent: (result: Evidence, n: number) => number): Float64Array {
    const sum = new Float64Array(this.prior.length);
    this.results.forEach((result, n) => {
      const by = exponent(result, n);
      if (by !== 0) result.log.forEach((log, column) => (sum[column]! += by * log));
    });
    return sum;
  }

  private atTemperature(prior: Float64Array): Float64Array {
    const { temperature } = this.engine.taught;
    if (temperature === 1) return prior;
    const last = prior.length - 1;
    const powered = prior.map((p, n) => (n === last ? 0 : p ** (1 / temperature)));
    const total = sumOf(powered);
    return powered.map((p, n) => (n === last ? prior[last]! : (p / total) * (1 - prior[last]!)));
  }

  private single(singly: Float64Array, tried: readonly Tried[]): Float64Array {
    return singly.map((p, n) => p * Math.exp(tried.reduce((sum, { log }) => sum + log[n]!, 0)));
  }

  /** Joint chances that what was tried mended a fault and the column is a second one. */
  private twoFaults(each: Tried, tried: readonly Tried[], singly: Float64Array, kept: Kept): Float64Array {
    const restarted = this.restarted(each, kept).map((p, n) => (each.hit[n] ? 0 : p));
    const total = Math.max(sumOf(restarted), 1e-300);
    const wasHit = singly.reduce((sum, p, n) => sum + (each.hit[n] ? p : 0), 0);
    const joint = this.single(restarted.map((p) => p / total), tried.filter((other) => other !== each));
    return joint.map((p) => p * each.second * wasHit);
  }

  /** The prior with the results as far as the mended fault does not explain them itself. */
  private restarted(each: Tried, kept: Kept): Float64Array {
    const prior = kept.prior ?? this.prior;
    if (!this.results.length) return prior;
    const mended = this.likeliest(each);
    const exponents = tempers(this.results, kept.results, this.engine);
    const weighed = new Float64Array(this.prior.length);
    this.results.forEach(({ log }, n) => {
      const explained = log[mended]! > log[log.length - 1]!;
      log.forEach((value, column) => (weighed[column]! += exponents[n]! * (explained ? Math.max(value, log[mended]!) : value)));
    });
    const most = Math.max(...weighed);
    return prior.map((p, n) => p * Math.exp(this.engine.taught.trust * (weighed[n]! - most)));
  }

  private floored(chances: Float64Array, kept: Kept): Float64Array {
    const at = (name: string): number => this.engine.figure("weighing", name);
    const sure = this.shown !== null && kept.shown && chances[this.shown.column]! >= at("STILL_SHOWN");
    const last = chances.length - 1;
    const unlisted = Math.max(chances[last]!, at(sure ? "LEAST_UNLISTED_SETTLED" : "LEAST_UNLISTED"));
    const listed = chances.map((p, n) => (n === last ? 0 : Math.max(p, at("LEAST_LISTED"))));
    const total = sumOf(listed);
    return listed.map((p, n) => (n === last ? unlisted : (p * (1 - unlisted)) / total));
  }
}
