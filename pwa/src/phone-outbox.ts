/** What the member may do with an act the service refused. */

import { isChange, seenBy, yielding } from "./model/clash";
import { newId } from "./model/ids";
import { mended, queued } from "./model/outbox";
import type { Entry } from "./model/outbox";
import type { Hands } from "./phone-create";
import type { Phone } from "./phone-types";

export function outboxActs(hands: Hands): Pick<Phone, "retry" | "mend" | "letGo" | "giveWay"> {
  const find = async (key: string): Promise<Entry | undefined> =>
    (await hands.db().outbox()).find((entry) => entry.key === key);
  const put = async (entry: Entry): Promise<void> => {
    await hands.db().putEntry(entry);
    await hands.changed();
    hands.send();
  };
  /** Sending an update again means: I have seen what is there now, and still want mine. */
  const seenAgain = async (entry: Entry): Promise<Entry> => {
    if (!isChange(entry.act)) return entry;
    const known = await hands.db().case(entry.caseId);
    return { ...entry, act: { ...entry.act, before: seenBy(entry.act, known) } };
  };
  const drop = async (entry: Entry): Promise<void> => {
    if (entry.state === "sending") return;
    await hands.db().settle(entry);
    await hands.changed();
    hands.send();
  };
  return {
    async retry(key) {
      const entry = await find(key);
      if (entry) await put(queued(await seenAgain(entry)));
    },
    async mend(key, act) {
      const entry = await find(key);
      if (entry) await put(mended(entry, act, newId()));
    },
    async letGo(key) {
      const entry = await find(key);
      if (entry) await drop(entry);
    },
    async giveWay(key) {
      const entry = await find(key);
      if (!entry || !isChange(entry.act)) return;
      const known = await hands.db().case(entry.caseId);
      const left = known && yielding(entry.act, known);
      await (left ? put(mended(entry, left, newId())) : drop(entry));
    },
  };
}
