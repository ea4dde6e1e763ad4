/** The acts on a case: each is saved on this phone with its ids and key, then sent when it can be. */

import type { StoredPhoto } from "./db";
import { toCaseBody } from "./model/draft";
import { newId } from "./model/ids";
import { seenBy } from "./model/clash";
import type { Change } from "./model/clash";
import { changedOnly, underPatch } from "./model/merge";
import type { LocalCase } from "./model/local-case";
import { newEntry } from "./model/outbox";
import type { Act } from "./model/outbox";
import type { Phone } from "./phone-types";
import type { Hands } from "./phone-create";

type Acts = Pick<
  Phone,
  | "openCase"
  | "amendCase"
  | "deleteCase"
  | "addTest"
  | "addReading"
  | "addPart"
  | "addRepair"
  | "skipTest"
  | "object"
  | "changeStep"
  | "setPartResult"
  | "undoStep"
  | "addPhoto"
  | "closeCase"
  | "reopenCase"
  | "saveDraft"
  | "dropDraft"
>;

export class NotJoined extends Error {
  constructor() {
    super("This phone is not joined to a shop; open the link of an enrolment first.");
    this.name = "NotJoined";
  }
}

export function caseActs(hands: Hands): Acts {
  const save = async (caseId: string, act: Act, with_: { photo?: StoredPhoto; draft?: string } = {}): Promise<void> => {
    const owner = hands.owner();
    if (!owner) throw new NotJoined();
    await hands.db().enqueue([newEntry(caseId, act, { key: newId(), owner, now: hands.now() })], with_);
    await hands.changed();
    hands.send();
  };
  const step = async <B extends { readonly id?: string }>(
    caseId: string,
    body: B,
    act: (body: B & { readonly id: string }) => Act,
  ): Promise<string> => {
    const id = body.id ?? newId();
    await save(caseId, act({ ...body, id }));
    return id;
  };

  const fileOf = (caseId: string): LocalCase | undefined => hands.shown.cases.peek().find((one) => one.id === caseId);
  const saveChange = (caseId: string, act: Exclude<Change, { do: "amend" }>): Promise<void> =>
    save(caseId, { ...act, before: seenBy(act, fileOf(caseId)) });

  return {
    async openCase(draft) {
      const body = toCaseBody(draft, newId, hands.now());
      const id = body.id ?? newId();
      await save(id, { do: "open", body: { ...body, id } }, { draft: draft.id });
      return id;
    },
    async amendCase(caseId, change) {
      const seen = fileOf(caseId);
      // A sheet gives all its fields; those left as they were are nobody's change.
      const own = seen ? (changedOnly(change as Record<string, unknown>, seen) as typeof change) : change;
      if (Object.keys(own).length > 0) await save(caseId, { do: "amend", change: own, before: underPatch(seen, own) });
    },
    deleteCase: (caseId) => save(caseId, { do: "delete" }),
    addTest: (caseId, test) => step(caseId, test, (body) => ({ do: "test", body })),
    addReading: (caseId, reading) => step(caseId, reading, (body) => ({ do: "reading", body })),
    addPart: (caseId, part) => step(caseId, part, (body) => ({ do: "part", body })),
    addRepair: (caseId, repair) => step(caseId, repair, (body) => ({ do: "repair", body })),
    skipTest: (caseId, skip) => step(caseId, skip, (body) => ({ do: "skip", body })),
    object: (caseId, objection) => step(caseId, objection, (body) => ({ do: "object", body })),
    changeStep: (caseId, of, id, change) => saveChange(caseId, { do: "step change", of, step: id, change }),
    setPartResult: (caseId, id, change) => saveChange(caseId, { do: "part result", step: id, change }),
    undoStep: (caseId, id) => save(caseId, { do: "undo", step: id }),
    async addPhoto(caseId, photo, { note = "", step: of } = {}) {
      const id = newId();
      const data = await photo.arrayBuffer();
      const told = { id, type: photo.type, bytes: data.byteLength, note, step: of ?? null };
      await save(caseId, { do: "photo", photo: told }, { photo: { id, type: photo.type, data } });
      return id;
    },
    closeCase(caseId, body) {
      const readings = body.readings?.map(
        (one) => ({ ...one, id: one.id ?? newId(), when: one.when ?? "after" }) as const,
      );
      return save(caseId, { do: "close", body: { ...body, ...(readings && { readings }) } });
    },
    async reopenCase(caseId, body) {
      const id = body.id ?? newId();
      await save(caseId, { do: "reopen", body: { ...body, id } });
      return id;
    },
    async saveDraft(draft) {
      await hands.db().putDraft(draft);
      await hands.changed();
    },
    async dropDraft(id) {
      await hands.db().dropDraft(id);
      await hands.changed();
    },
  };
}
