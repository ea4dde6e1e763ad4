/** What was never sent, as a file to take along, and letting go of it. */

import type { Db } from "./db";
import type { Entry } from "./model/outbox";

const STEP = 0x8000;

/** Bytes as base64 text. */
function base64(data: ArrayBuffer): string {
  const bytes = new Uint8Array(data);
  let text = "";
  for (let at = 0; at < bytes.length; at += STEP) text += String.fromCharCode(...bytes.subarray(at, at + STEP));
  return btoa(text);
}

async function told({ key, caseId, act, made, problem }: Entry, db: Db): Promise<object> {
  const photo = act.do === "photo" ? await db.photo(act.photo.id) : null;
  return { made, case: caseId, key, ...act, ...(problem && { refused: problem.detail || problem.title }), ...(photo && { type: photo.type, base64: base64(photo.data) }) };
}

/** Every act in the order it was done, pictures included, and the questions not asked yet: plain JSON, nothing of the shop's copy. */
export async function unsentFile(db: Db, now: Date): Promise<Blob> {
  const acts: object[] = [];
  for (const entry of await db.outbox()) acts.push(await told(entry, db));
  const questions = await db.drafts();
  const content = { what: "work done on a phone that was never sent", saved: now.toISOString(), acts, questions };
  return new Blob([JSON.stringify(content, null, 1)], { type: "application/json" });
}
