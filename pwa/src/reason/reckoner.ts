/** A copy that answers: takes the cases as they come and go, and keeps what was read of them. */

import type { Advice, Case } from "../wire";
import { advise } from "./advise";
import type { Asking } from "./advise";
import type { CaseDoc, CaseText } from "./casedoc";
import type { Engine } from "./engine";
import { Memory } from "./memory";

/** Changes when the reading of texts does: what was kept is then read anew. */
export const READER = "1";

/** A case with a mark that changes whenever it does. */
export interface Marked {
  readonly file: Case;
  readonly mark: string;
}

/** What was read of a case as it was at a mark. */
export interface KeptText {
  readonly id: string;
  readonly mark: string;
  readonly text: CaseText;
}

interface Held {
  readonly mark: string;
  readonly doc: CaseDoc;
}

export class Reckoner {
  private readonly held = new Map<string, Held>();
  private memory: Memory | null = null;

  constructor(readonly engine: Engine) {}

  /** Cases whose text has still to be read. */
  unread(cases: readonly Marked[], kept: ReadonlyMap<string, KeptText>): readonly Marked[] {
    return cases.filter(({ file, mark }) => this.held.get(file.id)?.mark !== mark && kept.get(file.id)?.mark !== mark);
  }

  read({ file, mark }: Marked): KeptText {
    return { id: file.id, mark, text: this.engine.readText(file) };
  }

  /** The cases as they are now; what is neither held nor kept is read. */
  take(cases: readonly Marked[], kept: ReadonlyMap<string, KeptText> = new Map()): void {
    const there = new Set(cases.map(({ file }) => file.id));
    for (const id of this.held.keys()) if (!there.has(id) && this.held.delete(id)) this.memory = null;
    for (const { file, mark } of cases) {
      if (this.held.get(file.id)?.mark === mark) continue;
      const known = kept.get(file.id);
      const text = known?.mark === mark ? known.text : this.engine.readText(file);
      this.held.set(file.id, { mark, doc: this.engine.docOf(file, text) });
      this.memory = null;
    }
  }

  advise(asking: Asking): Advice {
    return advise(asking, this.engine, this.ready());
  }

  /** Asks the newest cases of the others, so that the first real question finds everything at hand. */
  rehearse(most = 24): void {
    const newest = [...this.held.values()].map(({ doc }) => doc.file).sort((a, b) => ((a.opened ?? "") < (b.opened ?? "") ? 1 : -1));
    for (const { id, complaint, vehicle, codes } of newest.slice(0, most))
      this.advise({ body: { complaint, vehicle, codes }, asker: { skill: 4, rights: [] }, without: [id] });
  }

  /** The index over the cases held, made anew after a change. */
  ready(): Memory {
    const { figure, analyzer, lexicon, book, codes } = this.engine;
    this.memory ??= new Memory([...this.held.values()].map(({ doc }) => doc), { figure, analyzer, lexicon, book, codes });
    return this.memory;
  }
}
