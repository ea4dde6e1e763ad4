/** Looks two steps ahead over tests and repairs, and a step deeper where the race is close. */

import type { Figure } from "./figures";
import { bestOf, seenOf } from "./quick";
import type { Choice, Ground } from "./quick";

const SURE = 1 - 1e-9;
const SEEN_AT_LEAST = 1e-9;

interface Outlook {
  readonly choice: Choice;
  /** Nothing more is tested. */
  readonly stop: number;
  /** What each test saves: alone against stopping, or in the best plan against doing without it. */
  readonly saves: Float64Array;
}

const sumOf = (row: Float64Array): number => row.reduce((sum, each) => sum + each, 0);
const mostOf = (row: Float64Array): number => row.reduce((most, each) => (each > most ? each : most), 0);

interface Branch {
  /** Chance of coming here, by what was done: a test with an outcome, or a repair that did not cure. */
  readonly seen: number;
  readonly leaf: number;
  /** The least minutes of one test more, which that is, and the least without it. */
  readonly least: number;
  readonly which: number;
  readonly without: number;
}

const NOWHERE: Branch = { seen: 0, leaf: 0, least: Infinity, which: -1, without: Infinity };

/** What follows one row of chances when a test of those left, or none, is done. */
function branch(ground: Ground, row: Float64Array, { seen, place, spent }: { readonly seen: number; readonly place: number; readonly spent: number }): Branch {
  if (seen <= 1e-12) return NOWHERE;
  const { tests, setup } = ground.on;
  const leaf = ground.ofRow(row);
  let [least, which, without] = [Infinity, -1, Infinity];
  if (mostOf(row) < SURE)
    for (let t = 0; t < tests.length; t += 1) {
      if (t === spent) continue;
      const cost = ground.oneTest(row, t, tests[t]! + setup[place]![t]!, Math.min(without, leaf));
      if (cost < least) [without, least, which] = [least, cost, t];
      else if (cost < without) without = cost;
    }
  return { seen, leaf, least, which, without };
}

const place = (ground: Ground, t: number, now: number): number => (ground.on.goes[t]! < 0 ? now : ground.on.goes[t]!);

export function lookAhead(ground: Ground, p = ground.on.p): Outlook {
  const { tests, lik, repairs, whose, setup } = ground.on;
  const after = tests.reduce<Branch[][]>((found, _, t) => {
    const rows = lik[t]!.map((likely) => {
      const row = new Float64Array(p.length);
      const seen = seenOf(p, likely, row);
      return branch(ground, row.map((each) => each / Math.max(seen, 1e-300)), { seen, place: place(ground, t, 0), spent: t });
    });
    return [...found, rows];
  }, []);
  const failed = [...repairs.keys()].map((a) => {
    const row = p.map((each, c) => (whose[c] === a ? 0 : each));
    const left = sumOf(row);
    return branch(ground, row.map((each) => each / Math.max(left, 1e-300)), { seen: left, place: 0, spent: -1 });
  });
  const begin = (t: number): number => tests[t]! + setup[0]![t]!;
  const follow = (rows: readonly Branch[], lacking = -2): number =>
    rows.reduce((sum, each) => sum + each.seen * Math.min(each.leaf, each.which === lacking ? each.without : each.least), 0);
  const byTest = tests.map((_, t) => begin(t) + follow(after[t]!));
  const byRepair = repairs.map((minutes, a) => minutes + follow([failed[a]!]));
  const alone = tests.map((_, t) => begin(t) + after[t]!.reduce((sum, each) => sum + each.seen * each.leaf, 0));
  const [stop, refer] = [ground.ofRow(p), ground.referring(p)];
  const without = tests.map((_, lacking) => {
    const firsts = [...tests.keys()].filter((t) => t !== lacking).map((t) => begin(t) + follow(after[t]!, lacking));
    const mended = [...repairs.keys()].map((a) => repairs[a]! + follow([failed[a]!], lacking));
    return Math.min(stop, refer, ...firsts, ...mended);
  });
  return { choice: { byTest, byRepair, refer }, stop, saves: tests.map((_, t) => Math.max(stop - alone[t]!, without[t]! - byTest[t]!)) };
}

/** Where the car is, and the test and repair that are spent (-1: none). */
interface Here {
  readonly place: number;
  readonly test: number;
  readonly repair: number;
}

/** The steps after a first act, worked out with one test looked ahead over after them. */
class Deeper {
  constructor(
    private readonly ground: Ground,
    private readonly mostTests: number,
  ) {}

  private begin(t: number, from: number): number {
    return this.ground.on.tests[t]! + this.ground.on.setup[from]![t]!;
  }

  private chosen(p: Float64Array, here: Here): readonly number[] {
    const every = [...this.ground.on.tests.keys()].filter((t) => t !== here.test);
    if (every.length <= this.mostTests) return every;
    const cost = new Map(every.map((t) => [t, this.ground.oneTest(p, t, this.begin(t, here.place), Infinity)]));
    return every.sort((a, b) => cost.get(a)! - cost.get(b)! || a - b).slice(0, this.mostTests);
  }

  /** What comes to more than `most` need not be exact. */
  private fromHere(row: Float64Array, here: Here, chosen: readonly number[], most: number): number {
    let best = this.ground.ofRow(row);
    const mass = sumOf(row);
    if (mostOf(row) >= SURE * mass) return best;
    for (const t of chosen) if (t !== here.test) best = Math.min(best, this.ground.oneTest(row, t, mass * this.begin(t, here.place), Math.min(best, most)));
    return best;
  }

  private byTest(p: Float64Array, here: Here, t: number, chosen: readonly number[], most: number): number {
    let cost = this.begin(t, here.place);
    const then = { place: place(this.ground, t, here.place), test: t, repair: -1 };
    const row = new Float64Array(p.length);
    for (const likely of this.ground.on.lik[t]!) {
      if (cost > most) return Infinity;
      if (seenOf(p, likely, row) > 1e-12) cost += this.fromHere(row, then, chosen, most - cost);
    }
    return cost;
  }

  private byRepair(p: Float64Array, here: Here, a: number, chosen: readonly number[], most: number): number {
    const cost = this.ground.on.repairs[a]!;
    if (cost > most) return Infinity;
    const row = p.map((each, c) => (this.ground.on.whose[c] === a ? 0 : each));
    return sumOf(row) > 1e-12 ? cost + this.fromHere(row, { place: here.place, test: -1, repair: -1 }, chosen, most - cost) : cost;
  }

  /** Minutes of the best first act, one more test looked ahead over after it. */
  least(p: Float64Array, here: Here): number {
    const chosen = this.chosen(p, here);
    let least = this.ground.referring(p);
    for (const t of chosen) least = Math.min(least, this.byTest(p, here, t, chosen, least));
    for (let a = 0; a < this.ground.on.repairs.length; a += 1) if (a !== here.repair) least = Math.min(least, this.byRepair(p, here, a, chosen, least));
    return least;
  }

  test(t: number, most: number): number {
    const { p, lik } = this.ground.on;
    const then = { place: place(this.ground, t, 0), test: t, repair: -1 };
    let cost = this.begin(t, 0);
    for (const likely of lik[t]!) {
      if (cost >= most) return most;
      const row = new Float64Array(p.length);
      const seen = seenOf(p, likely, row);
      if (mostOf(row) >= SURE * seen) cost += this.ground.ofRow(row);
      else if (seen > SEEN_AT_LEAST) cost += seen * this.least(row.map((each) => each / seen), then);
    }
    return Math.min(cost, most);
  }

  repair(a: number): number {
    const { p, whose, repairs } = this.ground.on;
    const row = p.map((each, c) => (whose[c] === a ? 0 : each));
    const left = sumOf(row);
    if (left <= SEEN_AT_LEAST) return repairs[a]!;
    return repairs[a]! + left * this.least(row.map((each) => each / left), { place: 0, test: -1, repair: a });
  }
}

/** The choice with the costs of its closest first acts worked out one step further. */
export function deeper(ground: Ground, choice: Choice, figure: Figure): Choice {
  const [byTest, byRepair] = [choice.byTest.slice(), choice.byRepair.slice()];
  const further = new Deeper(ground, figure("deeper", "MOST_TESTS"));
  const acts = [...[...byTest].map((cost, n) => ({ cost, n, test: true })), ...[...byRepair].map((cost, n) => ({ cost, n, test: false }))];
  const within = bestOf(choice) * (1 + figure("deeper", "CLOSE"));
  const close = acts.sort((a, b) => a.cost - b.cost).slice(0, figure("deeper", "MOST_ACTS"));
  for (const { cost, n, test } of close.filter((act) => act.cost <= within)) {
    if (test) byTest[n] = Math.min(cost, further.test(n, cost));
    else byRepair[n] = Math.min(cost, further.repair(n));
  }
  return { byTest, byRepair, refer: choice.refer };
}
