/** TF-IDF with smoothed idf and unit length over a fixed collection of documents. */

export const countsOf = (terms: Iterable<string>): Map<string, number> => {
  const counts = new Map<string, number>();
  for (const term of terms) counts.set(term, (counts.get(term) ?? 0) + 1);
  return counts;
};

interface Postings {
  readonly idf: number;
  readonly rows: Int32Array;
  readonly values: Float64Array;
}

export class Tfidf {
  readonly size: number;
  private readonly postings = new Map<string, Postings>();
  private readonly unknownIdf: number;

  constructor(
    documents: readonly ReadonlyMap<string, number>[],
    private readonly sublinear: boolean,
  ) {
    this.size = documents.length;
    this.unknownIdf = Math.log(1 + this.size) + 1;
    this.fill(documents);
  }

  private fill(documents: readonly ReadonlyMap<string, number>[]): void {
    const held = new Map<string, [row: number, count: number][]>();
    documents.forEach((counts, row) => {
      for (const [term, count] of counts) {
        const rows = held.get(term);
        if (rows) rows.push([row, count]);
        else held.set(term, [[row, count]]);
      }
    });
    const squares = new Float64Array(this.size);
    for (const [term, rows] of held) {
      const idf = Math.log((1 + this.size) / (1 + rows.length)) + 1;
      const values = Float64Array.from(rows, ([, count]) => this.tf(count) * idf);
      rows.forEach(([row], n) => (squares[row]! += values[n]! ** 2));
      this.postings.set(term, { idf, rows: Int32Array.from(rows, ([row]) => row), values });
    }
    for (const { rows, values } of this.postings.values())
      rows.forEach((row, n) => (values[n] = values[n]! / Math.sqrt(squares[row]!)));
  }

  private tf(count: number): number {
    return this.sublinear ? 1 + Math.log(count) : count;
  }

  /** Cosine with every document; a term of no document takes its part of the length. */
  cosines(terms: Iterable<string>): Float64Array {
    const weights = [...countsOf(terms)].map(([term, count]) => {
      const held = this.postings.get(term);
      return { held, weight: this.tf(count) * (held?.idf ?? this.unknownIdf) };
    });
    const length = Math.sqrt(weights.reduce((sum, { weight }) => sum + weight * weight, 0));
    const scores = new Float64Array(this.size);
    for (const { held, weight } of weights) {
      if (!held) continue;
      const { rows, values } = held;
      const share = weight / length;
      for (let n = 0; n < rows.length; n += 1) scores[rows[n]!]! += share * values[n]!;
    }
    return scores;
  }

  /** Share of each document's squared weight that lies in the given terms. */
  containments(terms: Iterable<string>): Float64Array {
    const shares = new Float64Array(this.size);
    for (const term of new Set(terms)) {
      const held = this.postings.get(term);
      held?.rows.forEach((row, n) => (shares[row]! += held.values[n]! ** 2));
    }
    return shares;
  }
}
