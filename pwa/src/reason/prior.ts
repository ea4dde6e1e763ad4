/** The chances before any test: what the words, codes, car and habits say by trade knowledge alone. */

import type { Engine } from "./engine";
import type { Question } from "./question";
import type { Tally } from "./tally";

export interface Base {
  /** Shares of the listed causes; they sum to 1. */
  readonly shares: Float64Array;
  /** Chance that at least one of the symptoms is really there. */
  readonly heard: number;
}

type Add = (column: number) => number;

export function tradePrior(question: Question, engine: Engine, tally: Tally): Base {
  const { beliefs, figure } = engine;
  const at = (name: string): number => figure("prior", name);
  const logs = new Float64Array(beliefs.causes.length);
  const hint = (log: Add, times = 1): void => {
    for (let column = 0; column < logs.length; column += 1) logs[column]! += times * log(column);
  };
  const total = beliefs.weight.reduce((sum, weight) => sum + weight, 0);
  const atLarge = (row: Float64Array): number => row.reduce((sum, value, column) => sum + value * beliefs.weight[column]!, 0) / total;

  const heard = question.heard.filter(({ symptom }) => beliefs.shows.has(symptom)).map(({ symptom, chance }) => ({ symptom, chance: Math.min(chance, at("SUREST_HEARD")) }));
  const temper = 1 / Math.sqrt(Math.max(1, heard.reduce((sum, { chance }) => sum + chance, 0)));
  const elsewhere = figure("beliefs", "OTHER_SYSTEM");
  for (const { symptom, chance } of heard) {
    const shows = beliefs.shows.get(symptom)!;
    const large = atLarge(shows);
    hint((column) => Math.log((chance * shows[column]!) / large + (1 - chance) * (shows[column]! > elsewhere ? 1 : at("MISHEARD_ELSEWHERE"))), temper);
  }
  codes(question.codes, engine).forEach((factor) => hint((column) => Math.log(factor[column]!)));
  for (const { component, weight } of question.mentioned) {
    const named = new Set(beliefs.ofComponent.get(component) ?? []);
    if (named.size) hint((column) => (named.has(column) ? Math.log(1 + at("MENTION_FACTOR") * weight) : 0));
  }
  for (const condition of new Set(question.body.shows_when ?? [])) {
    if (!Object.hasOwn(engine.lean.listed, condition)) continue;
    const shown = Float64Array.from(beliefs.causes, (cause) => engine.lean.shownBy(cause, condition));
    const large = atLarge(shown);
    hint((column) => Math.log(shown[column]! / large), at("CONDITION_TEMPER"));
  }
  habits(engine, tally, total)?.forEach((log, column) => (logs[column]! += log));
  const shares = beliefs.weight.map((weight, column) => weight * Math.exp(logs[column]!));
  for (const [trait, needing] of beliefs.needing) if (question.absent.has(trait)) for (const column of needing) shares[column] = 0;
  const sum = shares.reduce((all, share) => all + share, 0);
  return { shares: shares.map((share) => share / sum), heard: 1 - heard.reduce((missed, { chance }) => missed * (1 - chance), 1) };
}

/** The strongest factor of codes on each cause; their number does not count. */
function codes(found: readonly string[], { beliefs, codes: read, figure }: Engine): Float64Array[] {
  if (!found.length) return [];
  const groups = new Map<string, string[]>();
  for (const code of new Set(found)) {
    const key = read.hints(code).join(" ");
    groups.set(key, [...(groups.get(key) ?? []), code]);
  }
  const whole = new Float64Array(beliefs.causes.length).fill(1);
  for (const [key, named] of groups) {
    const factor = figure("prior", named.every(read.common) ? "COMMON_CODE_FACTOR" : "CODE_FACTOR");
    const systems = new Set(key.split(" "));
    beliefs.systems.forEach((system, column) => (whole[column] = systems.has(system) ? Math.max(whole[column]!, factor) : whole[column]!));
  }
  return [whole];
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
