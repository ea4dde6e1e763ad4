import { existsSync, readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import * as wire from "../src/wire";
import * as office from "../src/wire-office";
import { parseLeft, parseTrail } from "../src/wire-people";
import { parseElsewhere, parseSharing } from "../src/wire-sharing";

/** Bodies both sides are held to, one file for each route or group of routes. */
const FOLDER = fileURLToPath(new URL("../../tests/contract/", import.meta.url));
const files = existsSync(FOLDER) ? readdirSync(FOLDER).filter((name) => name.endsWith(".json")) : [];

/** A trade list says itself which one it is. */
function tradeAnswer(answer: unknown, at: string): unknown {
  const { list } = wire.read(wire.object({ list: wire.oneOf(...wire.TRADE_LISTS) }), answer);
  return wire.parseTradeAnswer(list)(answer, at);
}

/** What the phone reads of each route; `{}` stands for any id. */
const READS: Readonly<Record<string, wire.Parser<unknown>>> = {
  "POST /advice": wire.parseAdvice,
  "GET /cases/{}/advice": wire.parseAdvice,
  "POST /cases": wire.parseCase,
  "GET /cases": wire.parseCasePage,
  "GET /cases/{}": wire.parseCase,
  "PATCH /cases/{}": wire.parseCase,
  "POST /cases/{}/tests": wire.parseCase,
  "POST /cases/{}/readings": wire.parseCase,
  "POST /cases/{}/parts": wire.parseCase,
  "PATCH /cases/{}/parts/{}": wire.parseCase,
  "POST /cases/{}/repairs": wire.parseCase,
  "POST /cases/{}/skips": wire.parseCase,
  "POST /cases/{}/objections": wire.parseCase,
  "PATCH /cases/{}/tests/{}": wire.parseCase,
  "PATCH /cases/{}/readings/{}": wire.parseCase,
  "PATCH /cases/{}/repairs/{}": wire.parseCase,
  "DELETE /cases/{}/steps/{}": wire.parseCase,
  "POST /cases/{}/photos": wire.parseCase,
  "POST /cases/{}/close": wire.parseCase,
  "POST /cases/{}/reopen": wire.parseCase,
  "GET /changes": wire.parseChanges,
  "GET /cases/{}/sharing": parseSharing,
  "PATCH /cases/{}/sharing": parseSharing,
  "POST /advice/elsewhere": parseElsewhere,
  "GET /recurrences": office.parseRecurrences,
  "GET /recurrences/months": office.parseTimeline,
  "GET /recurrences/life": office.parseLife,
  "GET /visits": office.parseVisits,
  "GET /alerts": office.parseAlerts,
  "GET /watch": office.parseWatchList,
  "GET /office": office.parseOverview,
  "GET /shelf": office.parseShelf,
  "GET /memory": office.parseMemory,
  "PATCH /alerts/{}": office.parseAlert,
  "GET /hooks": office.parseHooks,
  "POST /hooks": office.parseHook,
  "POST /visits": office.parseVisits,
  "GET /followups": office.parseFollowUps,
  "POST /cases/{}/followed": wire.parseCase,
  "GET /asks": office.parseAsks,
  "POST /cases/{}/asks": office.parseFactsAsked,
  "POST /cases/{}/asks/unknown": office.parseFactsAsked,
  "GET /season": office.parseSeason,
  "POST /hooks/{}/test": office.parseSent,
  "GET /hooks/{}/deliveries": office.parseSentList,
  "GET /parts": office.parsePartsReport,
  "POST /readings/judge": wire.parseJudgedList,
  "GET /me": wire.parseMe,
  "GET /shop": wire.parseShop,
  "PATCH /shop": wire.parseShop,
  "GET /members": office.parseMembers,
  "POST /members": wire.parseMember,
  "PATCH /members/{}": wire.parseMember,
  "POST /members/{}/leave": parseLeft,
  "GET /trail": parseTrail,
  "POST /enrolments": office.parseEnrolment,
  "POST /devices": wire.parseJoined,
  "POST /me/token": wire.parseToken,
  "GET /devices": office.parseDevices,
  "POST /import": office.parseImportReport,
  "GET /trade/{}": tradeAnswer,
};
/** Read as well, as soon as a body of them is recorded. */
const ALSO: Readonly<Record<string, wire.Parser<unknown>>> = {
  "POST /trade/tests": wire.parseTradeTest,
  "PATCH /trade/tests/{}": wire.parseTradeTest,
  "POST /trade/causes": wire.parseTradeCause,
  "PATCH /trade/causes/{}": wire.parseTradeCause,
  "GET /tuning": office.parseTuning,
  "GET /trade/words": tradeAnswer,
  "POST /trade/words": wire.parseOwnWord,
  "PATCH /trade/words/{}": wire.parseOwnWord,
  "GET /cases/{}/alike": office.parseAlikeCases,
  "POST /cases/{}/join": wire.parseCase,
  "POST /cases/{}/split": wire.parseCase,
  "POST /cases/{}/apart": wire.parseCase,
};
const PARSERS = { ...READS, ...ALSO };
/** Answers without a body, or that the phone passes on unread. */
const UNREAD =
  /^(GET \/reasoning\/\{\}|DELETE \/(cases|devices|hooks|trade\/(tests|causes))\/\{\}|GET \/export|GET \/(recurrences|parts|office)\/table|GET \/report|GET \/cases\/\{\}\/photos\/\{\}|GET \/openapi\.json|GET \/(health|metrics)\b.*)$/;

interface Exchange {
  readonly name: string;
  readonly route: string;
  readonly status: number;
  readonly answer: unknown;
}

const shape = (method: string, path: string): string => {
  const plain = path.replace(/^\/api/, "").replace(/\?.*$/, "");
  return `${method.toUpperCase()} ${plain.replace(/\{[^}]*\}|[0-9a-f]{8}-[0-9a-f-]{27}/g, "{}")}`;
};

/** A file is one exchange, a list of them, or an object that holds a list. */
function exchanges(name: string): readonly Exchange[] {
  const found: Exchange[] = [];
  const visit = (node: unknown, at: string): void => {
    if (Array.isArray(node)) return node.forEach((one, index) => visit(one, `${at}[${index}]`));
    if (!wire.isObject(node)) return;
    const one = exchangeIn(node, at);
    if (one) found.push(one);
    else Object.entries(node).forEach(([key, inner]) => visit(inner, `${at} ${key}`));
  };
  visit(JSON.parse(readFileSync(FOLDER + name, "utf8")), name);
  return found;
}

function exchangeIn(node: wire.JsonObject, name: string): Exchange | null {
  const [method, path] = typeof node["route"] === "string" ? node["route"].split(" ") : [node["method"], node["path"]];
  if (typeof method !== "string" || typeof path !== "string") return null;
  const given = node["answer"] ?? node["response"];
  const nested = wire.isObject(given) && typeof given["status"] === "number" && "body" in given;
  const status = nested ? given["status"] : (node["status"] ?? 200);
  const answer = nested ? given["body"] : given;
  return { name, route: shape(method, path), status: Number(status), answer };
}

describe.skipIf(files.length === 0)("the phone reads every answer of the contract", () => {
  const all = files.flatMap(exchanges);

  test("every file holds an exchange", () => {
    const named = new Set(all.map(({ name }) => name.split(/[[ ]/)[0]));
    expect(files.filter((name) => !named.has(name))).toEqual([]);
  });

  test.each(all)("$route $status in $name", ({ route, status, answer }) => {
    if (status >= 400) return void expect(wire.read(wire.parseProblem, answer).status).toBe(status);
    if (UNREAD.test(route) || answer === null || answer === undefined) return;
    expect(Object.keys(PARSERS)).toContain(route);
    expect(wire.read(PARSERS[route] ?? wire.anything, answer)).toBeDefined();
  });

  test("every route the phone reads has an exchange", () => {
    const shown = new Set(all.map(({ route }) => route));
    expect(Object.keys(READS).filter((route) => !shown.has(route))).toEqual([]);
  });
});

test.runIf(files.length === 0)("tests/contract holds no bodies: nothing to read", ({ skip }) => skip());
