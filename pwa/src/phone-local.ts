/** Answering without signal: by the service's own arithmetic in a thread of its own, else by words alone. */

import { judge } from "./model/local-judge";
import { readAsOf, searchCases } from "./model/local-search";
import type { Hands } from "./phone-create";
import type { Asked } from "./phone-types";
import { reckoning } from "./reason-client";
import type { AdviceBody, Judged, ReadingBody } from "./wire";

const threads = new Map<string, ReturnType<typeof reckoning>>();

function threadOf(name: string | undefined): ReturnType<typeof reckoning> {
  const held = threads.get(name ?? "") ?? reckoning(name);
  threads.set(name ?? "", held);
  return held;
}

/** Ends them with all they hold; the next question starts a fresh one. */
export function endThreads(): void {
  for (const thread of threads.values()) thread.stop();
  threads.clear();
}

/** Makes the thread read the copy before it is needed. */
export const makeReady = async ({ dbName }: Pick<Hands, "dbName">): Promise<void> => void (await threadOf(dbName).ask());

export async function localAnswer(hands: Hands, body: AdviceBody, without: string | null, why: string): Promise<Asked> {
  const { shown, dbName } = hands;
  const { skill = 4, rights = [] } = shown.me.peek()?.member ?? {};
  const asking = { body, asker: { skill, rights }, without: without === null ? [] : [without] };
  const reckoned = await threadOf(dbName).ask(asking);
  const judged = judgeAll(shown, body.readings ?? []);
  const advice = reckoned.advice && { ...reckoned.advice, readings: [...judged, ...reckoned.advice.readings.slice(judged.length)] };
  return { kind: "local", advice, judged, why, lacking: reckoned.why, ...(advice ? { found: [], readAs: [] } : byWords(shown, body, without)) };
}

function byWords(shown: Hands["shown"], body: AdviceBody, without: string | null): Pick<Extract<Asked, { kind: "local" }>, "found" | "readAs"> {
  const cases = shown.cases.peek().filter((one) => one.id !== without && one.state !== "open" && !one.joined_into);
  const question = {
    text: body.complaint,
    symptoms: body.symptoms ?? [],
    codes: body.codes ?? [],
    vehicle: body.vehicle ?? {},
    asTyped: body.as_typed ?? [],
    ownWords: shown.trade.peek().words,
  };
  return { found: searchCases(cases, question), readAs: readAsOf(cases, question) };
}

const judgeAll = (shown: Hands["shown"], readings: readonly ReadingBody[]): readonly Judged[] =>
  readings.map((reading) => judge(reading, shown.trade.peek()));
