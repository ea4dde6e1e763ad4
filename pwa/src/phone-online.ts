/** Single answers of the service, for what is only asked while it can be reached. */

import type { Call, Net } from "./net";
import type { Hands } from "./phone-create";
import type { Office } from "./phone-office";
import type { Online } from "./phone-types";
import * as wire from "./wire";
import { t } from "./texts";

export const FILE_LIMIT_MS = 300_000;

/** One call with its answer read; an answer of an unknown form counts as unreachable. */
export async function fetched<T>(net: Net, call: Call, parse: wire.Parser<T>): Promise<Online<T>> {
  const reply = await net.call(call);
  if (reply.kind !== "ok") return reply;
  try {
    return { kind: "ok", value: wire.read(parse, reply.body) };
  } catch (error) {
    if (!(error instanceof wire.WireError)) throw error;
    return { kind: "unreachable", why: t().net.cannotRead(error.message) };
  }
}

const blob: wire.Parser<Blob> = (value, at) => {
  if (!(value instanceof Blob)) throw new wire.WireError(at, "a file", value);
  return value;
};

export const fetchedBlob = (net: Net, path: string): Promise<Online<Blob>> =>
  fetched(net, { path, as: "blob", limitMs: FILE_LIMIT_MS }, blob);

/** The picture from this phone while it waits to be sent, else from the service. */
export async function photoOf({ db, net }: Hands, caseId: string, photoId: string): Promise<Online<Blob>> {
  const here = await db().photo(photoId);
  if (here) return { kind: "ok", value: new Blob([here.data], { type: here.type }) };
  return fetchedBlob(net, `/cases/${encodeURIComponent(caseId)}/photos/${encodeURIComponent(photoId)}`);
}

/** The office's acts by name; their code comes when the first is called. */
export function lateOffice(hands: Hands): Office {
  const made = async (): Promise<Office> => (await import("./phone-office")).office(hands);
  return {
    amendShop: async (change) => (await made()).amendShop(change),
    report: async (path, parse) => (await made()).report(path, parse),
    reportFile: async (path) => (await made()).reportFile(path),
    send: async (method, path, body, parse) => (await made()).send(method, path, body, parse),
    settleAlert: async (id, state, reason) => (await made()).settleAlert(id, state, reason),
    parts: async (component) => (await made()).parts(component),
    addOwnTest: async (body, key) => (await made()).addOwnTest(body, key),
    addOwnCause: async (body, key) => (await made()).addOwnCause(body, key),
    keepWord: async (word, means) => (await made()).keepWord(word, means),
    dropWord: async (word) => (await made()).dropWord(word),
    tuning: async () => (await made()).tuning(),
    alike: async (id) => (await made()).alike(id),
    settleTwin: async (twin, key) => (await made()).settleTwin(twin, key),
    sharing: async (id) => (await made()).sharing(id),
    setSharing: async (id, revision) => (await made()).setSharing(id, revision),
    elsewhere: async (body) => (await made()).elsewhere(body),
    members: async () => (await made()).members(),
    addMember: async (member) => (await made()).addMember(member),
    amendMember: async (id, change) => (await made()).amendMember(id, change),
    enrol: async (member) => (await made()).enrol(member),
    devices: async () => (await made()).devices(),
    revokeDevice: async (id) => (await made()).revokeDevice(id),
    exportLines: async () => (await made()).exportLines(),
    importLines: async (lines, mode) => (await made()).importLines(lines, mode),
  };
}
