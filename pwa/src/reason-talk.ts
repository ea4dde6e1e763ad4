/** What the page and the reckoning thread say to each other. */

import type { Asking } from "./reason/advise";
import type { Advice } from "./wire";

/** Without `asking` the thread only makes itself ready. */
export interface ToWorker {
  readonly id: number;
  /** The store's name, for tests. */
  readonly name?: string;
  readonly asking?: Asking;
}

export interface FromWorker {
  readonly id: number;
  readonly advice: Advice | null;
  /** Why there is no advice. */
  readonly why: string;
}
