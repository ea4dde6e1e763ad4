/** Leaves the oldest cases to the service where the shop has more than a phone should hold. */

import { overLimit } from "./model/copy-limit";
import type { Limits } from "./model/copy-limit";
import type { Ways } from "./sync-drain";

export async function keepNewest({ db, changed }: Pick<Ways, "db" | "changed">, limits?: Limits): Promise<void> {
  const unsent = new Set((await db.outbox()).map(({ caseId }) => caseId));
  const gone = overLimit(await db.cases(), unsent, limits);
  if (!gone.length) return;
  await db.leaveOut(gone);
  changed();
}
