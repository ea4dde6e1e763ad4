/** The exact plan of a small problem: all outcomes seen, repairs failed and places, costs weighted by their chance. */

import { seenOf } from "./quick";
import type { Choice, Ground } from "./quick";

const widthOf = (rows: readonly Float64Array[]): number => rows.reduce((width, row, n) => (row.some((p) => p > 0) ? n + 1 : width), 0);

/** How many states the exact plan has to work through. */
export function statesOf({ on }: Ground): number {
  const outcomes = on.lik.reduce((product, rows) => product * (1 + widthOf(rows)), 1);
  return outcomes * 2 ** on.repairs.length * on.setup.length;
}

export function solve(ground: Ground): Choice {
  const { p, tests, repairs, lik, setup, goes, whose } = ground.on;
  const kept = new Map<string, number>();
  const width = lik.map(widthOf);

  interface State {
    readonly weights: Float64Array;
    /** Outcome + 1 of each test done, 0 where it is not. */
    readonly done: readonly number[];
    readonly failed: number;
    readonly place: number;
  }

  function byTest({ weights, done, failed, place }: State, t: number): number {
    const mass = weights.reduce((sum, each) => sum + each, 0);
    const then = goes[t]! < 0 ? place : goes[t]!;
    let cost = (tests[t]! + setup[place]![t]!) * mass;
    for (let o = 0; o < width[t]!; o += 1) {
      const after = new Float64Array(weights.length);
      if (seenOf(weights, lik[t]![o]!, after) > 0) cost += value({ weights: after, done: done.map((each, n) => (n === t ? o + 1 : each)), failed, place: then });
    }
    return cost;
  }

  function byRepair({ weights, failed, ...rest }: State, a: number): number {
    const mass = weights.reduce((sum, each) => sum + each, 0);
    const left = weights.map((each, c) => (whose[c] === a ? 0 : each));
    return repairs[a]! * mass + value({ ...rest, weights: left, failed: failed | (1 << a) });
  }

  function value(state: State): number {
    const key = `${state.done.join(",")}|${state.failed}|${state.place}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    let least = ground.referring(state.weights);
    state.done.forEach((outcome, t) => (least = outcome ? least : Math.min(least, byTest(state, t))));
    for (let a = 0; a < repairs.length; a += 1) if (!(state.failed & (1 << a))) least = Math.min(least, byRepair(state, a));
    kept.set(key, least);
    return least;
  }

  const start: State = { weights: p, done: [...tests].map(() => 0), failed: 0, place: 0 };
  return { byTest: tests.map((_, t) => byTest(start, t)), byRepair: repairs.map((_, a) => byRepair(start, a)), refer: ground.referring(p) };
}
