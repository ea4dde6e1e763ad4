/** The cost of the best repairs, and of one test with the best repairs after it, in expected minutes. */

/**
 * One fault, C causes (the last: any other), A repairs, T tests of up to O outcomes, K places the car can be in.
 * Each cause is mended by one repair or none, and surely.
 */
export interface Problem {
  /** Chance of each cause; sums to 1. */
  readonly p: Float64Array;
  /** Whose repair mends each cause, -1 nobody's. */
  readonly whose: Int32Array;
  /** Minutes of the repairs, money included. */
  readonly repairs: Float64Array;
  /** Minutes of giving the job away, by the true cause. */
  readonly fallback: Float64Array;
  /** Minutes of the tests without set-up. */
  readonly tests: Float64Array;
  /** P(outcome | cause), by test, outcome and cause, zeros beyond a test's own outcomes. */
  readonly lik: readonly (readonly Float64Array[])[];
  /** Set-up minutes of each test from each place. */
  readonly setup: readonly Float64Array[];
  /** The place the car is in after each test; -1 where it stays. */
  readonly goes: Int32Array;
}

const NEVER = -2;
const SEVERAL = -1;
/** Bounds this near to one another are taken for equal, so that rounding never cuts the best away. */
const SLACK = 1 + 1e-9;

/** A problem with room to work in and what each outcome leaves open. */
export class Ground {
  /** By test and outcome: the one cause it can have, else several or never. */
  readonly sole: readonly Int32Array[];
  /** By test: the least minutes of each cause once known, times the chance of any outcome. */
  private readonly floors: readonly Float64Array[];
  private readonly cured: Float64Array;
  private readonly spared: Float64Array;
  private readonly ratio: Float64Array;
  private readonly after: Float64Array;

  constructor(
    readonly on: Problem,
    private readonly mostTried: number,
  ) {
    this.sole = on.lik.map((rows) =>
      Int32Array.from(rows, (row) => {
        const can = [...row.keys()].filter((c) => row[c]! > 0);
        return can.length === 1 ? can[0]! : can.length ? SEVERAL : NEVER;
      }),
    );
    const floor = on.fallback.map((away, c) => (on.whose[c]! < 0 ? away : Math.min(away, on.repairs[on.whose[c]!]!)));
    this.floors = on.lik.map((rows) => floor.map((least, c) => least * rows.reduce((sum, row) => sum + row[c]!, 0)));
    this.cured = new Float64Array(on.repairs.length);
    this.spared = new Float64Array(on.repairs.length);
    this.ratio = new Float64Array(on.repairs.length);
    this.after = new Float64Array(on.p.length);
  }

  /** Minutes of the repairs in the order of chance over minutes, up to the cheapest prefix, then giving away. */
  ofRow(chances: Float64Array): number {
    const { whose, repairs, fallback } = this.on;
    const { cured, spared, ratio } = this;
    cured.fill(0);
    spared.fill(0);
    let reached = 0;
    let away = 0;
    for (let c = 0; c < chances.length; c += 1) {
      const chance = chances[c]!;
      const share = chance * fallback[c]!;
      reached += chance;
      away += share;
      const mender = whose[c]!;
      if (mender >= 0) {
        cured[mender]! += chance;
        spared[mender]! += share;
      }
    }
    for (let a = 0; a < repairs.length; a += 1) ratio[a] = cured[a]! / repairs[a]!;
    let spent = 0;
    let least = away;
    for (let tried = Math.min(this.mostTried, repairs.length); tried > 0; tried -= 1) {
      let best = 0;
      for (let a = 1; a < repairs.length; a += 1) if (ratio[a]! > ratio[best]!) best = a;
      if (!(ratio[best]! > 0) || spent > least) break;
      spent += repairs[best]! * reached;
      reached -= cured[best]!;
      away -= spared[best]!;
      ratio[best] = -1;
      if (spent + away < least) least = spent + away;
    }
    return least;
  }

  /** `ofRow` where one cause alone has a chance. */
  private ofOne(chance: number, c: number): number {
    const away = chance * this.on.fallback[c]!;
    const mender = this.on.whose[c]!;
    return mender < 0 || chance <= 0 ? away : Math.min(away, this.on.repairs[mender]! * chance);
  }

  /** Minutes of a test and the repairs after it, from `start` minutes; infinite where it comes to more than `most`. */
  oneTest(row: Float64Array, t: number, start: number, most: number): number {
    const sole = this.sole[t]!;
    const lik = this.on.lik[t]!;
    const floors = this.floors[t]!;
    let cost = start;
    let rest = 0;
    for (let c = 0; c < row.length; c += 1) rest += row[c]! * floors[c]!;
    if (start + rest > most * SLACK) return Infinity;
    for (let o = 0; o < sole.length; o += 1) {
      if (cost > most) return Infinity;
      const one = sole[o]!;
      if (one >= 0) cost += this.ofOne(row[one]! * lik[o]![one]!, one);
      else if (one === SEVERAL && seenOf(row, lik[o]!, this.after) > 0) cost += this.ofRow(this.after);
    }
    return cost;
  }

  /** Minutes of each test alone from where the car stands, and the bits of doubt it leaves. */
  alone(row: Float64Array): { readonly cost: Float64Array; readonly doubt: Float64Array } {
    const { tests, setup, lik } = this.on;
    const cost = tests.map((minutes, t) => this.oneTest(row, t, minutes + setup[0]![t]!, Infinity));
    const doubt = tests.map((_, t) => {
      let bits = 0;
      for (const likely of lik[t]!) {
        const seen = seenOf(row, likely, this.after);
        for (const each of this.after) if (each > 0) bits -= each * Math.log2(each / seen);
      }
      return bits;
    });
    return { cost, doubt };
  }

  referring(row: Float64Array): number {
    let cost = 0;
    for (let c = 0; c < row.length; c += 1) cost += row[c]! * this.on.fallback[c]!;
    return cost;
  }
}

/** Writes the causes together with an outcome; its chance. */
export function seenOf(row: Float64Array, likely: Float64Array, after: Float64Array): number {
  let seen = 0;
  for (let c = 0; c < row.length; c += 1) {
    after[c] = row[c]! * likely[c]!;
    seen += after[c]!;
  }
  return seen;
}

export const entropyOf = (row: Float64Array): number => row.reduce((bits, p) => (p > 0 ? bits - p * Math.log2(p) : bits), 0);

export interface Choice {
  readonly byTest: Float64Array;
  readonly byRepair: Float64Array;
  readonly refer: number;
}

export const bestOf = ({ byTest, byRepair, refer }: Choice): number => Math.min(refer, ...byTest, ...byRepair);

export type First = readonly [kind: "test" | "repair" | "refer", index: number];

/** The cheapest first act; a repair wins a tie, then a test. */
export function firstOf(choice: Choice): First {
  const within = bestOf(choice) + 1e-9;
  const repair = leastAt(choice.byRepair);
  if (repair >= 0 && choice.byRepair[repair]! <= within) return ["repair", repair];
  const test = leastAt(choice.byTest);
  return test >= 0 && choice.byTest[test]! <= within ? ["test", test] : ["refer", 0];
}

const leastAt = (costs: Float64Array): number => costs.reduce((best, cost, n) => (best < 0 || cost < costs[best]! ? n : best), -1);
