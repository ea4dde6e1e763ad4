/** Which questions are still open: asked for such a complaint, and not answered by it. */

import type { Wording } from "../wire-reasoning";
import type { Askable } from "./askable";
import type { Engine } from "./engine";
import type { Question } from "./question";

const patterns = new Map<string, RegExp>();

function found(pattern: string, text: string): boolean {
  const made = patterns.get(pattern) ?? new RegExp(pattern);
  patterns.set(pattern, made);
  return pattern !== "" && made.test(text.toLowerCase());
}

const told = ({ settled }: Wording, text: string): boolean => found(settled, text);

/** Whether the words name all of these complaints alike and say no more. */
export const vague = (wording: Wording, text: string): boolean => found(wording.name, text) && !told(wording, text);

/** Whether the words say that the fault is not always there. */
export const saysItHides = (text: string, { lists }: Engine): boolean => found(lists.calls.hides, text);

/** The conditions asked for, and their opposites. */
function touched({ answers }: Wording, { lists }: Engine): ReadonlySet<string> {
  const asked = answers.flatMap(({ condition }) => condition ?? []);
  const others = lists.conditions.opposites.filter((pair) => pair.some((each) => asked.includes(each))).flat();
  return new Set([...asked, ...others]);
}

/** Conditions given or plainly said. */
function saidWhen({ body }: Question, { lists }: Engine): readonly string[] {
  const plainly = Object.entries(lists.conditions.said_as).filter(([, pattern]) => found(`\\b(${pattern})\\b`, body.complaint));
  return [...(body.shows_when ?? []), ...plainly.map(([condition]) => condition)];
}

export function stillOpen(asks: readonly Askable[], question: Question, engine: Engine): readonly Askable[] {
  const heard = new Map(question.heard.map(({ symptom, chance }) => [symptom, chance]));
  const at = (name: string): number => engine.figure("call open", name);
  const when = saidWhen(question, engine);
  const text = question.mended;

  /** Whether an answer, or what makes the question idle, was heard clearly; of a danger, heard at all. */
  function clear({ kind, answers, unless }: Wording): boolean {
    const enough = at(kind === "danger" ? "HEARD" : "HEARD_CLEARLY");
    return [...answers.flatMap(({ symptom }) => symptom ?? []), ...unless].some((id) => (heard.get(id) ?? 0) >= enough);
  }

  function isOpen(wording: Wording): boolean {
    if (wording.among.length && !wording.among.some((id) => (heard.get(id) ?? 0) >= at("HEARD"))) return false;
    if (wording.kind === "when") {
      const about = touched(wording, engine);
      return !when.some((condition) => about.has(condition));
    }
    const tapped = (question.body.symptoms ?? []).length > 0;
    if (!tapped && wording.settled) return vague(wording, text) || !(told(wording, text) || clear(wording));
    return !clear(wording);
  }

  return asks.filter(({ wording }) => isOpen(wording));
}
