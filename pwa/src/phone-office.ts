/** The manager's pages and files, asked only while the service can be reached; loaded at first use. */

import type { Call } from "./net";
import type { Hands } from "./phone-create";
import { FILE_LIMIT_MS, fetched, fetchedBlob } from "./phone-online";
import type { Online, Phone } from "./phone-types";
import { pullTrade } from "./sync-pull";
import * as wire from "./wire";
import * as parsers from "./wire-office";
import { parseElsewhere, parseSharing } from "./wire-sharing";

export type Office = Pick<
  Phone,
  | "report"
  | "reportFile"
  | "send"
  | "settleAlert"
  | "parts"
  | "addOwnTest"
  | "addOwnCause"
  | "keepWord"
  | "dropWord"
  | "tuning"
  | "alike"
  | "settleTwin"
  | "sharing"
  | "setSharing"
  | "elsewhere"
  | "members"
  | "addMember"
  | "amendMember"
  | "enrol"
  | "devices"
  | "revokeDevice"
  | "amendShop"
  | "exportLines"
  | "importLines"
>;

const mapped = <A, B>(answer: Online<A>, pick: (value: A) => B): Online<B> =>
  answer.kind === "ok" ? { kind: "ok", value: pick(answer.value) } : answer;

function query(given: Readonly<Record<string, string | undefined>>): string {
  const said = Object.entries(given).filter((pair): pair is [string, string] => Boolean(pair[1]));
  return said.length ? `?${new URLSearchParams(said).toString()}` : "";
}

async function amendShop(hands: Hands, change: Partial<Omit<wire.Shop, "id">>): Promise<Online<wire.Shop>> {
  const answer = await fetched(hands.net, { method: "PATCH", path: "/shop", body: change }, wire.parseShop);
  const me = hands.shown.me.peek();
  if (answer.kind === "ok" && me) await hands.db().setMeta("me", { ...me, shop: answer.value });
  await hands.changed();
  return answer;
}

/** A change of the shop's own lists is on this phone's lists before the screen goes on. */
async function settled<T>(hands: Hands, call: Call, parse: wire.Parser<T>): Promise<Online<T>> {
  const answer = await fetched(hands.net, call, parse);
  if (answer.kind === "ok") await pullTrade({ ...hands, db: hands.db(), changed: () => undefined });
  await hands.changed();
  return answer;
}

export function office(hands: Hands): Office {
  const { net } = hands;
  const one = (list: string, id: string): string => `/${list}/${encodeURIComponent(id)}`;
  return {
    amendShop: (change) => amendShop(hands, change),
    report: (path, parse) => fetched(net, { path }, parse),
    reportFile: (path) => fetchedBlob(net, path),
    send: (method, path, body, parse) => fetched(net, { method, path, body }, parse),
    settleAlert: (id, state, reason) => fetched(net, { method: "PATCH", path: one("alerts", id), body: { state, reason } }, parsers.parseAlert),
    parts: (component) => fetched(net, { path: `/parts${query({ component })}` }, parsers.parsePartsReport),
    addOwnTest: (body, key) => settled(hands, { method: "POST", path: "/trade/tests", body, key }, wire.parseTradeTest),
    addOwnCause: (body, key) =>
      settled(hands, { method: "POST", path: "/trade/causes", body, key }, wire.parseTradeCause),
    keepWord: (word, means = "") => settled(hands, { method: "POST", path: "/trade/words", body: { word, means } }, wire.parseOwnWord),
    dropWord: async (word) =>
      mapped(await settled(hands, { method: "DELETE", path: one("trade/words", word) }, wire.anything), () => null),
    tuning: () => fetched(net, { path: "/tuning" }, parsers.parseTuning),
    alike: async (id) =>
      mapped(await fetched(net, { path: `${one("cases", id)}/alike` }, parsers.parseAlikeCases), (each) => each.alike),
    settleTwin: ({ id, how, other }, key) =>
      fetched(net, { method: "POST", path: `${one("cases", id)}/${how}`, body: { other }, key }, wire.anything),
    sharing: (id) => fetched(net, { path: `${one("cases", id)}/sharing` }, parseSharing),
    setSharing: (id, revision) =>
      fetched(net, { method: "PATCH", path: `${one("cases", id)}/sharing`, body: { shared: revision !== null }, ...(revision !== null && { ifMatch: `"${revision}"` }) }, parseSharing),
    elsewhere: (body) => fetched(net, { method: "POST", path: "/advice/elsewhere", body }, parseElsewhere),
    members: async () =>
      mapped(await fetched(net, { path: "/members" }, parsers.parseMembers), ({ members }) => members),
    addMember: (body) => fetched(net, { method: "POST", path: "/members", body }, wire.parseMember),
    amendMember: (id, body) => fetched(net, { method: "PATCH", path: one("members", id), body }, wire.parseMember),
    enrol: (member) => fetched(net, { method: "POST", path: "/enrolments", body: { member } }, parsers.parseEnrolment),
    devices: async () =>
      mapped(await fetched(net, { path: "/devices" }, parsers.parseDevices), ({ devices }) => devices),
    revokeDevice: async (id) =>
      mapped(await fetched(net, { method: "DELETE", path: one("devices", id) }, wire.anything), () => null),
    exportLines: () => fetchedBlob(net, "/export"),
    importLines: (lines, mode) => fetched(net, importCall(lines, mode), parsers.parseImportReport),
  };
}

const importCall = (lines: Blob, mode: "all" | "report") =>
  ({
    method: "POST",
    path: `/import?mode=${mode}`,
    body: lines,
    type: "application/x-ndjson",
    limitMs: FILE_LIMIT_MS,
  }) as const;
