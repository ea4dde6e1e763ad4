/** The newest change this phone was ever answered: a store that does not have it says so instead of answering. */

/** Behind for so long means put back to an older state, and no copy on its way. */
const PATIENCE_MS = 60_000;

export class Seen {
  private newest = 0;
  private token: string | null = null;
  private behindSince: number | null = null;

  constructor(private readonly now: () => number) {}

  /** What to send; of another token's shop nothing is known. */
  by(token: string | null, known = 0): number {
    if (token !== this.token) [this.token, this.newest, this.behindSince] = [token, 0, null];
    if (this.behindSince === null) this.note(known);
    return this.newest;
  }

  answered(body: unknown): void {
    this.behindSince = null;
    if (typeof body === "object" && body !== null && "revision" in body) this.note(Number(body.revision));
  }

  /** A store that stays behind is asked without it: the phone then fetches its copy anew. */
  behind(): void {
    this.behindSince ??= this.now();
    if (this.now() - this.behindSince >= PATIENCE_MS) this.newest = 0;
  }

  private note(change: number): void {
    if (change > this.newest) this.newest = change;
  }
}
