/** The causes in question as columns: all listed ones, the copy's own, and last the one not known here. */

import type { Engine } from "./engine";
import type { Tally } from "./tally";

type Tables = Map<string, readonly Float64Array[]>;

const tables = new WeakMap<Tally, readonly [Engine, Tables]>();

function listedBy(tally: Tally, engine: Engine): Tables {
  const [of, held] = tables.get(tally) ?? [];
  if (held && of === engine) return held;
  const made: Tables = new Map();
  tables.set(tally, [engine, made]);
  return made;
}

/** The rates of a test with the counts of these causes pooled in. */
function pooled(rates: readonly Float64Array[], test: string, at: ReadonlyMap<string, number>, { engine, tally }: Columns): readonly Float64Array[] {
  const rows = rates.map((row) => row.slice());
  const alpha = engine.figure("columns", "ALPHA_OUTCOMES");
  const names = engine.tests.get(test)?.outcomes.map(({ id }) => id) ?? [];
  for (const [cause, seen] of tally.outcomes.get(test) ?? []) {
    const column = at.get(cause);
    if (column === undefined) continue;
    const total = names.reduce((sum, name) => sum + (seen.get(name) ?? 0), 0);
    rows.forEach((row, n) => (row[column] = ((seen.get(names[n] ?? "") ?? 0) + alpha * row[column]!) / (total + alpha)));
  }
  return rows;
}

export class Columns {
  readonly ids: readonly string[];
  readonly at: ReadonlyMap<string, number>;
  private readonly rows = new Map<string, readonly Float64Array[]>();

  constructor(
    readonly engine: Engine,
    own: readonly string[],
    readonly tally: Tally,
  ) {
    this.ids = [...engine.beliefs.causes, ...own];
    this.at = new Map(this.ids.map((id, column) => [id, column]));
  }

  /** How many columns there are, the cause not known here included. */
  get count(): number {
    return this.ids.length + 1;
  }

  get listed(): number {
    return this.engine.beliefs.causes.length;
  }

  /** P(outcome | cause) of a listed test, a row for each outcome, the copy's counts pooled with the trade's chances. */
  outcomes(test: string): readonly Float64Array[] {
    const known = this.rows.get(test) ?? this.reckoned(test);
    this.rows.set(test, known);
    return known;
  }

  /** The listed causes' are the same for every question on one tally; the copy's own stand beside them. */
  private reckoned(test: string): readonly Float64Array[] {
    const kept = listedBy(this.tally, this.engine);
    const listed = kept.get(test) ?? pooled(this.engine.beliefs.rows.get(test) ?? [], test, this.engine.beliefs.at, this);
    kept.set(test, listed);
    if (this.ids.length === this.listed) return listed;
    const wide = listed.map((row) => {
      const all = new Float64Array(this.count).fill(row[row.length - 1]!);
      all.set(row.subarray(0, row.length - 1));
      return all;
    });
    return pooled(wide, test, new Map(this.ids.slice(this.listed).map((id, n) => [id, this.listed + n])), this);
  }

  /** P(this outcome | cause); null for a test or outcome no list knows. */
  outcome(test: string, outcome: string): Float64Array | null {
    const place = this.engine.tests.get(test)?.outcomes.findIndex(({ id }) => id === outcome) ?? -1;
    return place < 0 ? null : (this.outcomes(test)[place] ?? null);
  }

  /** The trade's own P(outcome | cause), the copy's counts left out. */
  listedRow(test: string, outcome: string): Float64Array | null {
    const place = this.engine.tests.get(test)?.outcomes.findIndex(({ id }) => id === outcome) ?? -1;
    return place < 0 ? null : (this.engine.beliefs.rows.get(test)?.[place] ?? null);
  }

  /** True for causes of this component; `byPart` only for those that a new part of it cures. */
  ofComponent(component: string, byPart: boolean): boolean[] {
    const found = new Array<boolean>(this.count).fill(false);
    const { beliefs } = this.engine;
    for (const column of beliefs.ofComponent.get(component) ?? []) found[column] = !byPart || (beliefs.byPart[column] ?? false);
    return found;
  }

  only(cause: string): boolean[] {
    const found = new Array<boolean>(this.count).fill(false);
    const column = this.at.get(cause);
    if (column !== undefined) found[column] = true;
    return found;
  }

  title(cause: string): string {
    return this.engine.causes.get(cause)?.title ?? cause.replace(/^own\./, "").replaceAll("_", " ");
  }
}
