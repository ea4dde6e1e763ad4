/** Asking: the service when it can be reached, else what this phone remembers. */

import { toQuestion } from "./model/draft";
import type { Draft } from "./model/draft";
import type { LocalCase } from "./model/local-case";
import type { Reply } from "./net";
import type { Hands } from "./phone-create";
import type { Asked, Phone } from "./phone-types";
import { WireError, parseAdvice, read } from "./wire";
import type { AdviceBody, ReadingBody, RepairBody } from "./wire";
import { needLater, t } from "./texts";

const ASK_LIMIT_MS = 10_000;

export function asking(hands: Hands): Pick<Phone, "ask" | "askCase"> {
  return {
    async ask(draft) {
      return post(hands, toQuestion(draft), null);
    },
    async askCase(caseId) {
      const known = hands.shown.cases.peek().find((one) => one.id === caseId);
      if (known && known.unsent > 0) return post(hands, ofCase(known), caseId);
      const reply = await hands.net.call({
        path: `/cases/${encodeURIComponent(caseId)}/advice`,
        limitMs: ASK_LIMIT_MS,
      });
      return answer(hands, reply, known ? ofCase(known) : { complaint: "" }, caseId);
    },
  };
}

async function post(hands: Hands, body: AdviceBody, without: string | null): Promise<Asked> {
  const reply = await hands.net.call({ method: "POST", path: "/advice", body, limitMs: ASK_LIMIT_MS });
  return answer(hands, reply, body, without);
}

async function answer(hands: Hands, reply: Reply, body: AdviceBody, without: string | null): Promise<Asked> {
  if (reply.kind === "signed_out" || reply.kind === "refused") return reply;
  if (reply.kind === "unreachable") return local(hands, body, without, reply.why);
  try {
    return { kind: "advice", advice: read(parseAdvice, reply.body) };
  } catch (error) {
    if (!(error instanceof WireError)) throw error;
    return local(hands, body, without, t().net.cannotRead(error.message));
  }
}

/** Its code and its words come when they are first needed. */
async function local(hands: Hands, body: AdviceBody, without: string | null, why: string): Promise<Asked> {
  const [{ localAnswer }] = await Promise.all([import("./phone-local"), needLater()]);
  return localAnswer(hands, body, without, why);
}

/** A stored case as a question, with the acts the service does not have yet. */
export const ofCase = (known: LocalCase): AdviceBody => ({
  ...toQuestion({ ...asDraft(known), readings: known.readings.map(withoutStamp) }),
  ...(known.repairs.length && { repairs: known.repairs.map(repairBody) }),
  ...(known.skipped.length && { skipped: known.skipped.map(({ test, because, note }) => ({ test, because, note })) }),
  ...(known.objections.length && { objections: known.objections.map(({ cause, because, note }) => ({ cause, because, note })) }),
});

const repairBody = ({ cause, result, minutes, note }: LocalCase["repairs"][number]): RepairBody => ({
  cause,
  result,
  note,
  ...(minutes !== null && { minutes }),
});

const asDraft = (known: LocalCase): Draft => ({
  id: known.id,
  complaint: known.complaint,
  vehicle: known.vehicle,
  symptoms: known.symptoms,
  codes: known.codes,
  readings: [],
  tests: known.tests.map(({ test, outcome, minutes, note, part, fault_present }) => ({
    test,
    outcome,
    note,
    fault_present,
    ...(minutes !== null && { minutes }),
    ...(part !== null && { part }),
  })),
  parts: known.parts.map(({ component, source, price, result, note, charged }) => ({
    component,
    source,
    result,
    note,
    charged,
    ...(price !== null && { price }),
  })),
  comes_and_goes: known.comes_and_goes,
  shows_when: known.shows_when,
  as_typed: known.as_typed,
  changed: "",
});

const withoutStamp = ({
  quantity,
  value,
  unit,
  point,
  when,
  conditions,
}: LocalCase["readings"][number]): ReadingBody => ({
  quantity,
  value,
  unit,
  point,
  when,
  conditions,
});
