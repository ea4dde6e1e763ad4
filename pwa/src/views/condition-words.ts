/** How a condition of a reading is asked: as a number, as yes or no, as one of its words, or in own words. */
import { padValue } from "../model/reading";
import { convert, here, unitHere } from "../model/units";
import type { ConditionValue, ReadingBody, TradeCondition } from "../wire";
import { sentence } from "./words";

export type Asked = { kind: "number"; unit: string } | { kind: "choice"; words: readonly string[] } | { kind: "flag" } | { kind: "text" };

const FLAGS = new Set(["doors_latched", "key_away"]);

/** The title lists its own words: "off, on, crank", "wet or dry", "connected or not". */
export function askedAs(condition: TradeCondition): Asked {
  if (condition.unit) return { kind: "number", unit: condition.unit };
  if (FLAGS.has(condition.id) || condition.title.endsWith(" or not")) return { kind: "flag" };
  const listed = condition.title.replace(/^.*: /, "");
  if (listed.includes(",")) return { kind: "choice", words: listed.split(",").map((word) => word.trim()) };
  const pair = /^(?:.* )?(\S+) or (\S+)$/.exec(listed);
  return pair?.[1] && pair[2] ? { kind: "choice", words: [pair[1], pair[2]] } : { kind: "text" };
}

/** The question beside the answer: the listed words are taken out of it. */
export function askedTitle(condition: TradeCondition): string {
  const { title, id } = condition;
  if (title.includes(": ")) return sentence(title.replace(/: .*$/, ""));
  const bare = askedAs(condition).kind === "choice" || askedAs(condition).kind === "flag";
  return sentence(bare ? id.replaceAll("_", " ") : title);
}

export type Given = Readonly<Record<string, string>>;

/** A number typed in the shop's unit travels in the condition's own. */
function numberFrom(text: string, unit: string): number | null {
  const typed = padValue(text);
  const value = typed === null ? null : convert(typed, unitHere(unit), unit);
  return value === null ? null : Number(value.toPrecision(7));
}

const valueOf = (asked: Asked, text: string): ConditionValue | null => {
  if (text.trim() === "") return null;
  if (asked.kind === "flag") return text === "yes";
  return asked.kind === "number" ? numberFrom(text, asked.unit) : text.trim();
};

/** What was given, as it travels; what was left empty stays out. */
export function conditionsOf(conditions: readonly TradeCondition[], given: Given): Record<string, ConditionValue> {
  const said: Record<string, ConditionValue> = {};
  for (const condition of conditions) {
    const value = valueOf(askedAs(condition), given[condition.id] ?? "");
    if (value !== null) said[condition.id] = value;
  }
  return said;
}

function textOf(value: ConditionValue, unit: string | null): string {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "object") return String(here(value).value);
  return String(typeof value === "number" && unit ? here({ value, unit }).value : value);
}

/** Conditions once said stand for the next reading of the same job. */
export function keptFrom(readings: readonly Pick<ReadingBody, "conditions">[], conditions: readonly TradeCondition[]): Given {
  const kept: Record<string, string> = {};
  for (const reading of readings) {
    for (const [name, value] of Object.entries(reading.conditions ?? {})) kept[name] = textOf(value, conditions.find(({ id }) => id === name)?.unit ?? null);
  }
  return kept;
}
