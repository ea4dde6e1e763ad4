/** The proposed tests as a member reads them: what they cost, save, tell apart and warn of. */

import type { Next, NextTest, TradeTest } from "../wire";
import type { Layout } from "./layout";
import { openOf } from "./weighed";
import type { Weighed } from "./weighed";
import { minutes, setupWords, tellsApart } from "./wording";

const [TELLS_APART, THEN] = [4, 3];
const tenth = (value: number): number => Math.round(value * 10) / 10;
const fine = (value: number): number => Math.round(value * 1e4) / 1e4;

interface After {
  readonly seen: number;
  readonly then: Float64Array;
}

/** Each of the test's own outcomes with its chance, and the causes after it. */
function after({ lik, ground }: Layout, place: number): readonly After[] {
  const { p } = ground.on;
  return lik[place]!.map((row) => {
    const joint = row.map((likely, c) => likely * p[c]!);
    const seen = joint.reduce((sum, each) => sum + each, 0);
    return { seen, then: joint.map((each) => each / Math.max(seen, 1e-300)) };
  });
}

/** Titles of the likely causes whose chance the test moves most. */
export function tellsApartOf(layout: Layout, place: number): readonly string[] {
  const rows = after(layout, place);
  const { p } = layout.ground.on;
  const moved = layout.rows.map(({ title }, c) => ({ title, now: p[c]!, by: rows.reduce((sum, { seen, then }) => sum + seen * Math.abs(then[c]! - p[c]!), 0) }));
  const ranked = moved.sort((a, b) => b.by - a.by).slice(0, TELLS_APART);
  return ranked.filter(({ by, now }) => by >= 0.15 * now && now >= 0.01).map(({ title }) => title);
}

function outcomesOf(layout: Layout, place: number, { outcomes }: TradeTest): NextTest["outcomes"] {
  const rows = after(layout, place);
  return outcomes.map(({ id, means, names_part }, n) => {
    const { seen, then } = rows[n]!;
    const ranked = layout.rows.map(({ cause, title }, c) => ({ cause, title, probability: fine(then[c]!) })).sort((a, b) => b.probability - a.probability);
    return { outcome: id, means, probability: fine(seen), then_cause: ranked[0]?.cause ?? null, names_part, then: ranked.slice(0, THEN) };
  });
}

function rowOf({ layout, bars, saves, engine }: Weighed, place: number): NextTest {
  const test = layout.tests[place]!;
  const [takes, apart, saved] = [layout.minutes(place), tellsApartOf(layout, place), Math.max(saves[place]!, 0)];
  const system = engine.trade.systems.find(({ id }) => id === test.system);
  const cautions = new Set([...test.cautions, ...(system?.cautions ?? [])]);
  const bar = bars.get(place);
  return {
    test: test.id,
    title: test.title,
    minutes: tenth(takes),
    saves: tenth(saved),
    setup: setupWords(test, engine.lists.tests[test.id] ?? ""),
    tells_apart: apart,
    cautions: engine.trade.cautions.filter(({ id }) => cautions.has(id)).map(({ title }) => title),
    skill: test.skill,
    allowed: bar === undefined,
    note: bar?.note ?? "",
    why: `${tellsApart(apart)} ${minutes(takes)}, saves about ${minutes(saved)}.`,
    outcomes: outcomesOf(layout, place, test),
  };
}

/** The step's test, then the others by what they save; barred ones last, only if they save much. */
export function bestFirst(weighed: Weighed, next: Next): readonly NextTest[] {
  const { layout, bars, saves, engine } = weighed;
  const at = (name: string): number => engine.figure("ranked", name);
  const first = (n: number): number => Number(layout.tests[n]?.id !== next.test);
  const able = openOf(weighed)
    .filter((n) => saves[n]! >= at("SOME_USE_MIN") || !first(n))
    .sort((a, b) => first(a) - first(b) || saves[b]! - saves[a]! || a - b);
  const barred = [...bars.keys()]
    .filter((n) => saves[n]! >= engine.figure("referring", "WORTH_A_CERTIFICATE_MIN"))
    .sort((a, b) => Number(bars.get(a)?.said) - Number(bars.get(b)?.said) || saves[b]! - saves[a]! || a - b)
    .slice(0, Math.max(at("SHOWN_BARRED"), at("SHOWN") - able.length));
  return [...able.slice(0, Math.max(0, at("SHOWN") - barred.length)), ...barred].map((n) => rowOf(weighed, n));
}
