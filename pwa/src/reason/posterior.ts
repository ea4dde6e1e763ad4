/** What it could be: the chances of all causes after the words, the past cases and everything tested and tried. */

import { Columns } from "./columns";
import type { Engine } from "./engine";
import { evidenceOf, pointedAt, shownLog } from "./evidence";
import { byChance } from "./likeness";
import type { Match } from "./likeness";
import { movedOf } from "./moved";
import type { Pieces } from "./moved";
import { baseOf, hintsOf } from "./prior";
import type { Hint } from "./prior";
import type { Question } from "./question";
import { cureWeight } from "./tally";
import type { Tally } from "./tally";
import { triedOf } from "./tried";
import { Weighing } from "./weighing";
import type { Kept } from "./weighing";

export interface CauseRow {
  readonly cause: string;
  readonly title: string;
  readonly probability: number;
  /** How many of the copy's cases speak for it. */
  readonly cases: number;
  readonly system: string | null;
  /** Their ids, the most telling first. */
  readonly fromCases: readonly string[];
}

export interface Posterior {
  /** All causes by falling chance. */
  readonly rows: readonly CauseRow[];
  readonly unlisted: number;
  /** Chances in the order of the columns. */
  readonly byColumn: Float64Array;
  /** The cause a test showed by itself, while it still holds. */
  readonly settled: string | null;
  readonly columns: Columns;
  readonly tally: Tally;
  readonly weighing: Weighing;
  /** What moved the leading causes, and which fell by a result. */
  readonly pieces: () => Pieces;
}

function newShare(tally: Tally, { figure, beliefs }: Engine): number {
  let [cases, once] = [0, 0];
  for (const by of tally.causes.values())
    for (const [cause, weight] of by) {
      cases += weight;
      if (weight <= 1 && !beliefs.at.has(cause)) once += weight;
    }
  const weight = figure("pool", "NEW_WEIGHT");
  return (figure("pool", "NEW_SHARE") * weight + once) / (weight + cases);
}

/** The trade's shares by these hints pooled with past cases, the unlisted one last. */
function pooledPrior(hints: readonly Hint[], closed: readonly Match[], columns: Columns, { engine, tally, own }: { readonly engine: Engine; readonly tally: Tally; readonly own: boolean }): Float64Array {
  const { figure } = engine;
  const base = baseOf(hints, engine);
  const counts = new Float64Array(columns.count - 1);
  const cased = new Set(closed.map(({ doc }) => doc.file.cause));
  if (own) columns.ids.slice(columns.listed).forEach((cause, n) => (counts[columns.listed + n] = cased.has(cause) ? 0 : 1));
  for (const { doc, before } of closed) {
    const held = Math.min(Math.max(before, 0), figure("pool", "SURE"));
    counts[columns.at.get(doc.file.cause ?? "")!]! += (held / (1 - held)) * cureWeight(doc.file, figure);
  }
  const total = counts.reduce((sum, each) => sum + each, 0);
  const evidence = figure("causes", "TRADE_EVIDENCE") * base.heard + total;
  const unlisted = Math.max(newShare(tally, engine), Math.max(0.05, 1 / (evidence + 2)));
  const alpha = figure("causes", "ALPHA");
  const prior = new Float64Array(columns.count);
  counts.forEach((count, n) => (prior[n] = ((count + alpha * (base.shares[n] ?? 0)) / (total + alpha)) * (1 - unlisted)));
  prior[columns.count - 1] = unlisted;
  return prior;
}

/** Ids of the cases that speak for a cause: surer matches, then verified cures first. */
function telling(matches: readonly Match[], { figure }: Engine): readonly string[] {
  const worth = ({ chance, doc }: Match): number => chance * cureWeight(doc.file, figure);
  const sorted = [...matches].sort((a, b) => worth(b) - worth(a) || cureWeight(b.doc.file, figure) - cureWeight(a.doc.file, figure) || (a.doc.file.id < b.doc.file.id ? -1 : 1));
  return sorted.slice(0, figure("rows", "MOST_CASES")).map(({ doc }) => doc.file.id);
}

function rowsOf(chances: Float64Array, closed: readonly Match[], columns: Columns, engine: Engine): CauseRow[] {
  const speaks = engine.figure("rows", "SPEAKS_FOR");
  const spoke = new Map<string, Match[]>();
  const own = new Map<string, Match>();
  for (const match of closed) {
    const cause = match.doc.file.cause ?? "";
    if (match.chance >= speaks) spoke.set(cause, [...(spoke.get(cause) ?? []), match]);
    if (!own.has(cause)) own.set(cause, match);
  }
  const rows = columns.ids.map((cause, column) => {
    const known = engine.causes.get(cause);
    const file = own.get(cause)?.doc.file;
    return {
      cause,
      title: known?.title ?? (file?.cause_title || columns.title(cause)),
      probability: chances[column]!,
      cases: spoke.get(cause)?.length ?? 0,
      system: known?.system ?? file?.cause_system ?? null,
      fromCases: telling(spoke.get(cause) ?? [], engine),
    };
  });
  return rows.sort((a, b) => b.probability - a.probability || (a.cause < b.cause ? -1 : 1));
}

export function posteriorOf(question: Question, matches: readonly Match[], engine: Engine, tally: Tally): Posterior {
  const { body } = question;
  const closed = matches.filter(({ doc }) => doc.file.cause !== null);
  const named = [...closed.map(({ doc }) => doc.file.cause ?? ""), ...(body.tests ?? []).map(({ part }) => part ?? "")];
  const columns = new Columns(engine, [...new Set(named)].filter((cause) => cause && !engine.beliefs.at.has(cause)), tally);
  const pointed = pointedAt(body, engine);
  const label = pointed ? `${engine.tests.get(pointed.test)?.title ?? pointed.test}: ${columns.title(pointed.part ?? "")}` : "";
  const shown = pointed ? { label, column: columns.at.get(pointed.part ?? "")!, test: pointed.test, log: shownLog(pointed, columns, engine) } : null;
  const hints = hintsOf(question, engine, tally);
  const prior = pooledPrior(hints, closed, columns, { engine, tally, own: true });
  const weighing = new Weighing(prior, evidenceOf(question, columns, engine, pointed), shown, triedOf(body, columns, engine), engine);
  const chances = weighing.chances();
  const still = shown && chances[shown.column]! >= engine.figure("weighing", "STILL_SHOWN");
  return {
    rows: rowsOf(chances, closed, columns, engine),
    unlisted: chances[chances.length - 1]!,
    byColumn: chances,
    settled: still ? (columns.ids[shown.column] ?? null) : null,
    columns,
    tally,
    weighing,
    pieces: () => {
      const priors = hints.map((hint) => ({ label: hint.label, prior: pooledPrior(hints.filter((each) => each !== hint), closed, columns, { engine, tally, own: true }) }));
      const alone = closed.length ? pooledPrior(hints, [], columns, { engine, tally, own: false }) : null;
      return movedOf({ weighing, chances, hints: priors, withoutCases: alone, columns, engine });
    },
  };
}

/** The past cases after the evidence, drawn some way towards the chances of their causes. */
export function drawn(matches: readonly Match[], { rows, columns, weighing }: Posterior, { figure }: Engine): readonly Match[] {
  const at = (name: string): number => figure("reweigh", name);
  const within = (chance: number): number => Math.min(Math.max(chance, at("LEAST")), at("MOST"));
  const logOdds = (chance: number): number => Math.log(within(chance) / (1 - within(chance)));
  const chanceOf = new Map(rows.map(({ cause, probability }) => [cause, probability]));
  const factors = new Map<string, Float64Array>();
  const evident = weighing.results.length > 0 || weighing.tried.length > 0 || weighing.shown !== null;

  /** Odds after the evidence that counts for this case over the odds before; likeness counted the rest. */
  function factor({ doc }: Match): number {
    const tests = new Set(doc.file.tests.map(({ test }) => test));
    const read = new Set(doc.file.readings.map(({ quantity }) => quantity));
    const kept: Kept = {
      results: weighing.results.map(({ test, quantity }) => Number(!tests.has(test) && (!quantity || !read.has(quantity)))),
      shown: weighing.shown !== null && !tests.has(weighing.shown.test),
    };
    const key = `${kept.results.join("")}${kept.shown ? "s" : ""}`;
    const known = factors.get(key) ?? weighing.chances(kept).map((after, n) => {
      const before = weighing.prior[n]!;
      const odds = ((after / (1 - after)) * (1 - before)) / Math.max(before, 1e-12);
      return Math.min(Math.max(odds, at("LEAST_FACTOR")), at("MOST_FACTOR"));
    });
    factors.set(key, known);
    return known[columns.at.get(doc.file.cause ?? "") ?? known.length - 1]!;
  }

  function reweighed(match: Match): number {
    if (!evident) return match.chance;
    const odds = (match.chance / (1 - match.chance)) * factor(match);
    return within(odds / (1 + odds));
  }

  const share = at("DRAWN");
  const towards = (chance: number, cause: string): number => {
    const odds = (1 - share) * logOdds(chance) + share * logOdds(chanceOf.get(cause) ?? at("LEAST"));
    return within(1 / (1 + Math.exp(-odds)));
  };
  return matches
    .map((match) => (match.doc.file.cause === null ? match : { ...match, chance: towards(reweighed(match), match.doc.file.cause) }))
    .sort(byChance);
}
