/** The chances before any test: what the words, codes, car and habits say by trade knowledge alone. */

import type { Engine } from "./engine";
import type { Question } from "./question";
import type { Tally } from "./tally";

/** A piece of what is known before any test. */
export interface Hint {
  readonly label: string;
  /** The log of its factor on each cause. */
  readonly log: Float64Array;
  /** The chance of the symptom it stands for, 0 for any other hint. */
  readonly heard: number;
  /** Causes it puts out altogether. */
  readonly out: readonly number[];
}

interface Base {
  /** Shares of the listed causes; they sum to 1. */
  readonly shares: Float64Array;
  /** Chance that at least one of the symptoms is really there. */
  readonly heard: number;
}

type Add = (column: number) => number;

/** All hints: symptoms, codes, parts named, conditions, what the car lacks, and the habits of the shop. */
export function hintsOf(question: Question, engine: Engine, tally: Tally): readonly Hint[] {
  const { beliefs, figure, lists } = engine;
  const at = (name: string): number => figure("prior", name);
  const logs = (log: Add): Float64Array => Float64Array.from(beliefs.causes, (_, column) => log(column));
  const hint = (label: string, log: Add, more: Partial<Hint> = {}): Hint => ({ label, log: logs(log), heard: 0, out: [], ...more });
  const total = beliefs.weight.reduce((sum, weight) => sum + weight, 0);
  const atLarge = (row: Float64Array): number => row.reduce((sum, value, column) => sum + value * beliefs.weight[column]!, 0) / total;
  const elsewhere = figure("beliefs", "OTHER_SYSTEM");

  const symptoms = question.heard.flatMap(({ symptom, chance }) => {
    const shows = beliefs.shows.get(symptom);
    if (!shows) return [];
    const heard = Math.min(chance, at("SUREST_HEARD"));
    const large = atLarge(shows);
    const log = (column: number): number => Math.log((heard * shows[column]!) / large + (1 - heard) * (shows[column]! > elsewhere ? 1 : at("MISHEARD_ELSEWHERE")));
    return [hint(`Symptom: ${engine.symptoms.get(symptom)?.title ?? symptom}`, log, { heard })];
  });
  const named = question.mentioned.flatMap(({ component, weight }) => {
    const columns = new Set(beliefs.ofComponent.get(component) ?? []);
    const log = Math.log(1 + at("MENTION_FACTOR") * weight);
    return columns.size ? [hint(`Named: ${engine.components.get(component)?.title ?? component}`, (column) => (columns.has(column) ? log : 0))] : [];
  });
  const conditions = [...new Set(question.body.shows_when ?? [])].flatMap((condition) => {
    const title = lists.conditions.listed[condition];
    if (title === undefined) return [];
    const shown = Float64Array.from(beliefs.causes, (cause) => engine.lean.shownBy(cause, condition));
    const large = atLarge(shown);
    return [hint(`Shows when: ${title}`, (column) => at("CONDITION_TEMPER") * Math.log(shown[column]! / large))];
  });
  const traits = [...beliefs.needing].flatMap(([trait, out]) => (question.absent.has(trait) ? [hint(`Car without: ${lists.car.trait_titles[trait] ?? trait}`, () => 0, { out })] : []));
  const often = habits(engine, tally, total);
  return [...symptoms, ...codes(question.codes, engine), ...named, ...conditions, ...traits, ...(often ? [hint("How often this shop sees it", (column) => often[column]!)] : [])];
}

/** The shares by these hints: symptoms hang together and count less than independent ones. */
export function baseOf(hints: readonly Hint[], { beliefs }: Engine): Base {
  const temper = 1 / Math.sqrt(Math.max(1, hints.reduce((sum, { heard }) => sum + heard, 0)));
  const logs = new Float64Array(beliefs.causes.length);
  for (const { log, heard } of hints) {
    const by = heard > 0 ? temper : 1;
    for (let column = 0; column < logs.length; column += 1) logs[column]! += by * log[column]!;
  }
  const shares = beliefs.weight.map((weight, column) => weight * Math.exp(logs[column]!));
  for (const { out } of hints) for (const column of out) shares[column] = 0;
  const sum = shares.reduce((all, share) => all + share, 0);
  return { shares: shares.map((share) => share / sum), heard: 1 - hints.reduce((missed, { heard }) => missed * (1 - heard), 1) };
}

/** One hint for codes that point at the same systems: the strongest counts, not their number. */
function codes(found: readonly string[], { beliefs, codes: read, figure }: Engine): Hint[] {
  const groups = new Map<string, string[]>();
  for (const code of new Set(found)) {
    const key = read.hints(code).join(" ");
    groups.set(key, [...(groups.get(key) ?? []), code]);
  }
  const factors = [...groups].map(([key, named]) => {
    const factor = figure("prior", named.every(read.common) ? "COMMON_CODE_FACTOR" : "CODE_FACTOR");
    const systems = new Set(key.split(" "));
    return beliefs.systems.map((system) => (systems.has(system) ? factor : 1));
  });
  const strongest = (column: number, but = -1): number => factors.reduce((most, row, n) => (n === but ? most : Math.max(most, row[column]!)), 1);
  const shared = Float64Array.from(beliefs.systems, (_, column) => strongest(column));
  const alone = [...groups.values()].map((named, n) => {
    const log = Float64Array.from(beliefs.systems, (_, column) => Math.log(strongest(column) / strongest(column, n)));
    log.forEach((value, column) => (shared[column] = shared[column]! / Math.exp(value)));
    return { label: `Code ${named.join(", ")}`, log, heard: 0, out: [] };
  });
  const together = shared.map((factor) => Math.log(factor));
  return together.some((log) => Math.abs(log) > 1e-12) ? [...alone, { label: "Codes together", log: together, heard: 0, out: [] }] : alone;
}

/** Shrunk observed over expected count of each cause; null without cases. */
function habits({ beliefs, figure }: Engine, tally: Tally, total: number): Float64Array | null {
  const seen = new Float64Array(beliefs.causes.length);
  for (const by of tally.causes.values())
    for (const [cause, weight] of by) {
      const column = beliefs.at.get(cause);
      if (column !== undefined) seen[column]! += weight;
    }
  const all = seen.reduce((sum, each) => sum + each, 0);
  const prior = figure("prior", "HABIT_PRIOR");
  return all > 0 ? seen.map((each, column) => Math.log((prior + each) / (prior + (all * beliefs.weight[column]!) / total))) : null;
}
