/** What is only asked while the service can be reached: the manager's pages, pictures, files. */

import type { Call, Net } from "./net";
import type { Hands } from "./phone-create";
import type { Online, Phone } from "./phone-types";
import * as wire from "./wire";

type Reads = Pick<
  Phone,
  | "recurrences"
  | "parts"
  | "members"
  | "addMember"
  | "amendMember"
  | "enrol"
  | "devices"
  | "revokeDevice"
  | "exportLines"
  | "importLines"
  | "photo"
  | "amendShop"
>;

const FILE_LIMIT_MS = 300_000;

/** One call with its answer read; an answer of an unknown form counts as unreachable. */
export async function fetched<T>(net: Net, call: Call, parse: wire.Parser<T>): Promise<Online<T>> {
  const reply = await net.call(call);
  if (reply.kind !== "ok") return reply;
  try {
    return { kind: "ok", value: wire.read(parse, reply.body) };
  } catch (error) {
    if (!(error instanceof wire.WireError)) throw error;
    return { kind: "unreachable", why: `cannot read the service's answer: ${error.message}` };
  }
}

const blob: wire.Parser<Blob> = (value, at) => {
  if (!(value instanceof Blob)) throw new wire.WireError(at, "a file", value);
  return value;
};

const fetchedBlob = (net: Net, path: string): Promise<Online<Blob>> =>
  fetched(net, { path, as: "blob", limitMs: FILE_LIMIT_MS }, blob);

const mapped = <A, B>(answer: Online<A>, pick: (value: A) => B): Online<B> =>
  answer.kind === "ok" ? { kind: "ok", value: pick(answer.value) } : answer;

function query(given: Readonly<Record<string, string | undefined>>): string {
  const said = Object.entries(given).filter((pair): pair is [string, string] => Boolean(pair[1]));
  return said.length ? `?${new URLSearchParams(said).toString()}` : "";
}

/** The picture from this phone while it waits to be sent, else from the service. */
async function photoOf({ db, net }: Hands, caseId: string, photoId: string): Promise<Online<Blob>> {
  const here = await db().photo(photoId);
  if (here) return { kind: "ok", value: new Blob([here.data], { type: here.type }) };
  return fetchedBlob(net, `/cases/${encodeURIComponent(caseId)}/photos/${encodeURIComponent(photoId)}`);
}

async function amendShop(hands: Hands, change: Partial<Omit<wire.Shop, "id">>): Promise<Online<wire.Shop>> {
  const answer = await fetched(hands.net, { method: "PATCH", path: "/shop", body: change }, wire.parseShop);
  const me = hands.shown.me.peek();
  if (answer.kind === "ok" && me) await hands.db().setMeta("me", { ...me, shop: answer.value });
  await hands.changed();
  return answer;
}

export function onlineReads(hands: Hands): Reads {
  const { net } = hands;
  return {
    photo: (caseId, photoId) => photoOf(hands, caseId, photoId),
    amendShop: (change) => amendShop(hands, change),
    recurrences: ({ by = ["model", "system"], since, until } = {}) =>
      fetched(net, { path: `/recurrences${query({ by: by.join(","), since, until })}` }, wire.parseRecurrences),
    parts: (component) => fetched(net, { path: `/parts${query({ component })}` }, wire.parsePartsReport),
    members: async () => mapped(await fetched(net, { path: "/members" }, wire.parseMembers), ({ members }) => members),
    addMember: (body) => fetched(net, { method: "POST", path: "/members", body }, wire.parseMember),
    amendMember: (id, body) =>
      fetched(net, { method: "PATCH", path: `/members/${encodeURIComponent(id)}`, body }, wire.parseMember),
    enrol: (member) => fetched(net, { method: "POST", path: "/enrolments", body: { member } }, wire.parseEnrolment),
    devices: async () => mapped(await fetched(net, { path: "/devices" }, wire.parseDevices), ({ devices }) => devices),
    revokeDevice: async (id) =>
      mapped(
        await fetched(net, { method: "DELETE", path: `/devices/${encodeURIComponent(id)}` }, wire.anything),
        () => null,
      ),
    exportLines: () => fetchedBlob(net, "/export"),
    importLines: (lines, mode) =>
      fetched(
        net,
        {
          method: "POST",
          path: `/import?mode=${mode}`,
          body: lines,
          type: "application/x-ndjson",
          limitMs: FILE_LIMIT_MS,
        },
        wire.parseImportReport,
      ),
  };
}
