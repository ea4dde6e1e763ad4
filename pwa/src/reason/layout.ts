/** From the chances and the offered tests to the planner's arrays. */

import type { TradeCause, TradeTest } from "../wire";
import type { Engine } from "./engine";
import { oftenAway } from "./evidence";
import type { CauseRow, Posterior } from "./posterior";
import { Ground } from "./quick";
import type { Problem } from "./quick";
import type { Question } from "./question";
import { laterTests, meanOf } from "./tally";
import type { Sum } from "./tally";

/** One repair: the causes it cures (first the likeliest), minutes with money, and what its part alone comes to. */
export interface Mend {
  readonly cures: readonly string[];
  readonly component: string | null;
  readonly cost: number;
  readonly source: string | null;
  readonly safety: boolean;
  readonly part: number;
}

export interface Layout {
  readonly rows: readonly CauseRow[];
  readonly mends: readonly Mend[];
  readonly tests: readonly TradeTest[];
  readonly ground: Ground;
  /** The tests' own outcomes by cause, the last column every other one. */
  readonly lik: readonly (readonly Float64Array[])[];
  /** Minutes from where the car stands, set-up included. */
  readonly minutes: (place: number) => number;
  readonly now: TradeTest | null;
  /** The problem with only these tests, and the places the car is in after each of them. */
  readonly near: (chosen: readonly number[]) => Ground;
}

const NOTHING: Sum = { weight: 0, total: 0 };

export function leading({ rows }: Posterior, { figure }: Engine): readonly CauseRow[] {
  const likely = rows.slice(0, figure("layout", "MOST_CAUSES")).filter(({ probability }) => probability >= figure("layout", "LEAST_CHANCE"));
  return likely.length ? likely : rows.slice(0, 1);
}

/** Whether repairing the cause was refused, or tried here and will hardly cure when done again. */
function inVain(cause: string, { objections = [], repairs = [], parts = [] }: Question["body"], { causes, lists, figure }: Engine): boolean {
  if (objections.some((each) => each.cause === cause)) return true;
  const most = figure("vain", "MOST_TRIES");
  const results = repairs.filter((each) => each.cause === cause && (each.result as string) !== "cured").map(({ result }) => result);
  if (results.includes("no change") || results.length >= most) return true;
  const known = causes.get(cause);
  if (!known || lists.causes.not_by_part.includes(known.mode)) return false;
  const tries = parts.filter(({ component, result }) => component === known.component && (result === "no change" || result === "partly"));
  return tries.length >= most || tries.some(({ source, result }) => lists.causes.sound_sources.includes(source) && result === "no change");
}

function mendsOf(rows: readonly CauseRow[], posterior: Posterior, engine: Engine): Mend[] {
  const { causes, lists, taught, figure } = engine;
  const { tally } = posterior;
  const prior = figure("mends", "PRIOR_JOBS");
  const shrunk = (listed: number, seen: Sum = NOTHING): number => (prior * listed + seen.total) / (prior + seen.weight);
  const byPart = ({ mode }: TradeCause): boolean => !lists.causes.not_by_part.includes(mode);

  function partOf(cause: TradeCause): number {
    const usd = lists.causes.part_price[cause.id] ?? 0;
    return usd ? (shrunk(usd * taught.listed_rate, tally.prices.get(cause.component)) * 60) / taught.rate_per_hour : 0;
  }

  function mend(cures: readonly string[]): Mend {
    const cause = causes.get(cures[0] ?? "");
    if (!cause) {
      const minutes = meanOf(tally.labour.get(cures[0] ?? "")) ?? figure("mends", "UNKNOWN_REPAIR_MIN");
      return { cures, component: null, cost: minutes, source: null, safety: false, part: 0 };
    }
    const way = byPart(cause) ? taught.ways[cause.component] : undefined;
    const labour = shrunk(30 * (cause.labour_low_h + cause.labour_high_h), tally.labour.get(cause.id));
    const priced = way?.expected_cost ?? null;
    const usual = byPart(cause) && lists.causes.part_price[cause.id] !== 0 ? "maker" : null;
    return {
      cures,
      component: cause.component,
      cost: priced === null ? labour + partOf(cause) : (priced * 60) / taught.rate_per_hour,
      source: way?.source ?? usual,
      safety: lists.causes.safety.includes(cause.id),
      part: byPart(cause) ? partOf(cause) : 0,
    };
  }

  const groups = new Map<string, string[]>();
  for (const { cause } of rows) {
    const known = causes.get(cause);
    const by = known && byPart(known) ? known.component : cause;
    groups.set(by, [...(groups.get(by) ?? []), cause]);
  }
  return [...groups.values()].map(mend);
}

interface Marked {
  readonly test: TradeTest;
  /** c(old), w(arm), r(uns), d(isconnects), m(emory). */
  readonly marks: string;
}

/** Set-up minutes still to pay for a test after another one; null is a car just driven in. */
function setupOf(after: Marked | null, { test, marks }: Marked, warm: boolean | null, { figure }: Engine): number {
  const at = (name: string): number => figure("places", name);
  const up = Boolean(test.state?.raised);
  const battery = marks.includes("d") ? (after?.marks.includes("d") ? 0 : at("RECONNECT_MIN")) : after?.marks.includes("d") && marks.includes("m") ? at("RELEARN_MIN") : 0;
  if (!after) return (up ? Math.max(test.setup_min, at("RAISE_MIN")) : test.setup_min) + battery;
  const ran = warm ?? after.marks.includes("r");
  const temperature = marks.includes("c") ? (ran ? at("COOL_DOWN_MIN") : 0) : marks.includes("w") && !ran ? at("WARM_UP_MIN") : 0;
  return moving(after.test, test, at) + battery + temperature;
}

function moving(after: TradeTest, test: TradeTest, at: (name: string) => number): number {
  const [was, is] = [after.state, test.state];
  const same = was?.key === is?.key && was?.raised === is?.raised && was?.battery === is?.battery && was?.wheels === is?.wheels;
  if (same && test.tools.every((tool) => after.tools.includes(tool))) return 0;
  if (was?.raised && is?.raised && was.wheels === is.wheels) return Math.max(0, test.setup_min - at("RAISE_MIN"));
  if (is?.raised && !was?.raised) return Math.max(test.setup_min, at("RAISE_MIN"));
  return test.setup_min + (was?.raised && !is?.raised ? at("LOWER_MIN") : 0);
}

/** The outcomes of one test, those that name a part split by the columns it can show. */
function split(rows: readonly Float64Array[], { outcomes }: TradeTest, named: readonly number[]): readonly Float64Array[] {
  if (!named.length || !outcomes.some(({ names_part }) => names_part)) return rows;
  return rows.flatMap((row, n) => {
    if (!outcomes[n]?.names_part) return [row];
    const only = named.map((column) => row.map((p, c) => (c === column ? p : 0)));
    return [...only, row.map((p, c) => (named.includes(c) ? 0 : p))];
  });
}

export function layOut(question: Question, posterior: Posterior, tests: readonly TradeTest[], engine: Engine): Layout {
  const { figure, lists, beliefs } = engine;
  const { columns, tally } = posterior;
  const at = (name: string): number => figure("layout", name);
  const rows = leading(posterior, engine);
  const picked = rows.map(({ cause }) => columns.at.get(cause)!);
  const mends = mendsOf(rows.filter(({ cause }) => !inVain(cause, question.body, engine)), posterior, engine);
  const away = oftenAway(question.body);

  const rest = posterior.byColumn.slice();
  for (const column of picked) rest[column] = 0;
  const left = rest.reduce((sum, p) => sum + p, 0);
  const share = figure("evidence", "PRESENT_WHEN_COMES_AND_GOES");
  const lik = tests.map(({ id }) =>
    columns.outcomes(id).map((row) => {
      let other = 0;
      for (let n = 0; n < row.length; n += 1) other += row[n]! * rest[n]!;
      other /= left;
      const narrow = new Float64Array(picked.length + 1).fill(other);
      for (let c = 0; c < picked.length; c += 1) narrow[c] = row[picked[c]!]!;
      return away ? narrow.map((p) => share * p + (1 - share) * row[row.length - 1]!) : narrow;
    }),
  );
  const named = (test: TradeTest): number[] => {
    const classes = beliefs.named.get(test.id);
    return rows.flatMap(({ cause }, n) => (classes?.has(beliefs.at.get(cause) ?? -1) ? [n] : []));
  };

  const chances = rows.map(({ probability }) => probability);
  const p = Float64Array.from([...chances, Math.max(1 - chances.reduce((sum, each) => sum + each, 0), 1e-6)]);
  const total = p.reduce((sum, each) => sum + each, 0);
  const whose = Int32Array.from([...rows.map(({ cause }) => mends.findIndex(({ cures }) => cures.includes(cause))), -1]);
  const repairs = Float64Array.from(mends, ({ cost }) => cost);
  const unknown = 2 * figure("mends", "UNKNOWN_REPAIR_MIN");
  const fallback = Float64Array.from(whose, (mend, c) => at("HAND_OVER_MIN") + at("DEARER") * (at("DIAGNOSIS_MIN") + (c === rows.length ? unknown : mend < 0 ? 0 : repairs[mend]!)));
  const prior = figure("doing", "PRIOR_TIMES");
  const doing = Float64Array.from(tests, ({ id, setup_min, do_min }) => {
    const seen = tally.minutes.get(id) ?? NOTHING;
    const whole = (prior * (setup_min + do_min) + seen.total) / (prior + seen.weight);
    return Math.max(1, whole - setup_min);
  });

  const done = laterTests(question.body.tests ?? []).flatMap(({ test }) => engine.tests.get(test) ?? []);
  const marked = (test: TradeTest): Marked => ({ test, marks: lists.tests[test.id] ?? "" });
  const now = done.at(-1) ?? null;
  const warm = now ? done.some((test) => marked(test).marks.includes("r")) : null;
  const first = Float64Array.from(tests, (test) => setupOf(now && marked(now), marked(test), warm, engine));
  const problem: Problem = {
    p: p.map((each) => each / total),
    whose,
    repairs,
    fallback,
    tests: doing,
    lik: tests.map((test, n) => split(lik[n]!, test, named(test))),
    setup: [first],
    goes: new Int32Array(tests.length).fill(-1),
  };
  const mostTried = figure("orders", "MOST_TRIED");

  function near(chosen: readonly number[]): Ground {
    const close = chosen.map((n) => tests[n]!);
    const from = (after: TradeTest): Float64Array =>
      Float64Array.from(close, (test) => setupOf(marked(after), marked(test), warm || marked(after).marks.includes("r"), engine));
    return new Ground(
      {
        ...problem,
        tests: Float64Array.from(chosen, (n) => doing[n]!),
        lik: chosen.map((n) => problem.lik[n]!),
        setup: [Float64Array.from(chosen, (n) => first[n]!), ...close.map(from)],
        goes: Int32Array.from(chosen, (_, n) => n + 1),
      },
      mostTried,
    );
  }

  return { rows, mends, tests, lik, now, near, ground: new Ground(problem, mostTried), minutes: (n) => doing[n]! + first[n]! };
}
