/** What moved a cause: the change of its odds by each piece of evidence, found by leaving the piece out. */

import type { CauseChance, Dropped } from "../wire";
import type { Columns } from "./columns";
import type { Engine } from "./engine";
import type { Kept, Weighing } from "./weighing";

export interface Pieces {
  /** At most five pieces that moved the cause, the strongest first. */
  readonly moved: (cause: string, cases: number) => CauseChance["moved"];
  /** Leading causes that a result pushed down by half or more, and what did it. */
  readonly dropped: readonly Dropped[];
  /** The chances without each result, in step with the weighing's. */
  readonly withoutResult: readonly Float64Array[];
}

interface Piece {
  readonly label: string;
  readonly cases: boolean;
  readonly result: boolean;
  /** The chances without it. */
  readonly without: Float64Array;
}

export interface Reckoned {
  readonly weighing: Weighing;
  readonly chances: Float64Array;
  readonly hints: readonly { readonly label: string; readonly prior: Float64Array }[];
  readonly withoutCases: Float64Array | null;
  readonly columns: Columns;
  readonly engine: Engine;
}

const LEADING = 5;
const CASES = "Your like cases";

function piecesOf({ weighing, hints, withoutCases }: Reckoned): readonly Piece[] {
  const { all } = weighing;
  const piece = (label: string, kept: Partial<Kept>, result: boolean, cases = false): Piece => ({ label, cases, result, without: weighing.chances({ ...all, ...kept }) });
  return [
    ...hints.map(({ label, prior }) => piece(label, { prior }, false)),
    ...(withoutCases ? [piece(CASES, { prior: withoutCases }, false, true)] : []),
    ...weighing.results.map(({ label }, n) => piece(label, { results: all.results.map((each, m) => (m === n ? 0 : each)) }, true)),
    ...(weighing.shown ? [piece(weighing.shown.label, { shown: false }, true)] : []),
    ...weighing.tried.map((untried) => piece(untried.label, { tried: weighing.tried.filter((each) => each !== untried) }, true)),
  ];
}

const hintsAndCases = ({ hints, withoutCases }: Reckoned): number => hints.length + Number(withoutCases !== null);

const odds = (chance: number): number => chance / (1 - chance);

function wordsOf({ label, cases }: Piece, count: number, up: boolean): string {
  if (!cases) return label;
  if (up && count) return `${count} of your cases`;
  return up ? CASES : "Your like cases had other causes";
}

export function movedOf(reckoned: Reckoned): Pieces {
  const { chances, columns, engine, weighing } = reckoned;
  const at = (name: string): number => engine.figure("moved", name);
  const pieces = piecesOf(reckoned);
  const factorOn = (column: number, { without }: Piece): number => odds(chances[column]!) / odds(without[column]!);

  function moved(cause: string, cases: number): CauseChance["moved"] {
    const column = columns.at.get(cause);
    if (column === undefined) return [];
    const found = pieces.map((piece) => ({ piece, factor: factorOn(column, piece) }));
    const clear = found.filter(({ factor }) => factor > at("LEAST_CHANGE") || factor < 1 / at("LEAST_CHANGE"));
    const rows = clear.map(({ piece, factor }) => ({ by: wordsOf(piece, cases, factor > 1), factor: Math.min(Math.max(factor, 1 / at("FARTHEST")), at("FARTHEST")) }));
    return rows.sort((a, b) => Math.abs(Math.log(b.factor)) - Math.abs(Math.log(a.factor)) || (a.by < b.by ? -1 : 1)).slice(0, at("MOST"));
  }

  const results = pieces.filter(({ result }) => result);
  const before = weighing.prior;
  const famous = results.length ? [...columns.ids.keys()].sort((a, b) => before[b]! - before[a]!).slice(0, LEADING) : [];
  const fell = famous.filter((column) => before[column]! >= engine.figure("rows", "FAMOUS") && chances[column]! <= engine.figure("rows", "FELL_TO") * before[column]!);
  const first = hintsAndCases(reckoned);
  return {
    moved,
    withoutResult: pieces.slice(first, first + weighing.results.length).map(({ without }) => without),
    dropped: fell.map((column) => {
      const cause = columns.ids[column]!;
      const by = [...results].sort((a, b) => factorOn(column, a) - factorOn(column, b))[0]?.label ?? "";
      return { cause, title: columns.title(cause), before: before[column]!, after: chances[column]!, by };
    }),
  };
}
