/** A member who leaves, and who changed what: asked of the service, with signal. */
import { loadShop } from "./app-reports";
import { phone, say, troubleOf } from "./app-state";
import type { Online } from "./phone-types";
import { t } from "./texts";
import { parseLeft, parseTrail, type LeaveBody, type Left, type Trail } from "./wire-people";

const ACTS_A_PAGE = 30;

/** The value, or why there is none. */
function told<T>(answer: Online<T>): T | string {
  if (answer.kind === "ok") return answer.value;
  const trouble = troubleOf(answer);
  return [trouble?.title, trouble?.detail, trouble?.remedy].filter(Boolean).join(". ");
}

export async function letGo(id: string, body: LeaveBody): Promise<Left | string> {
  const answer = await phone.send("POST", `/members/${encodeURIComponent(id)}/leave`, body, parseLeft);
  if (answer.kind === "ok" && !body.preview) {
    say({ text: t().people.isOff });
    await loadShop();
    void phone.syncNow();
  }
  return told(answer);
}

export async function trail(before: number | null): Promise<Trail | string> {
  const from = before === null ? "" : `&before=${before}`;
  return told(await phone.report(`/trail?limit=${ACTS_A_PAGE}${from}`, parseTrail));
}
