/** The page for the customer, in words: what they said, what was measured, found and done, and what to watch. */
import { sums } from "../model/job";
import { judge } from "../model/local-judge";
import type { Case, ReadingStep, Trade } from "../wire";
import { showsWords } from "./away";
import { bandWords } from "./verdict";
import { day, measured, money, named, odometer, outcomeWords, sentence, titleOf, vehicleWords, within } from "./words";
import { t } from "../texts";

export interface Section {
  readonly title: string;
  readonly lines: readonly string[];
}

export interface Handover {
  readonly shop: string;
  readonly car: string;
  readonly when: string;
  readonly sections: readonly Section[];
  /** Empty unless the names were asked for. */
  readonly by: string;
  readonly foot: string;
}

export interface HandoverOptions {
  readonly trade: Trade;
  readonly shop: { readonly name: string; readonly currency: string; readonly rate_per_hour: number };
  readonly names: boolean;
  readonly cost: boolean;
}

/** So much of each that all stays on one sheet. */
const MOST_LINES = 7;
const MOST_SIGNS = 320;

const clipped = (words: string): string => (words.length > MOST_SIGNS ? `${words.slice(0, MOST_SIGNS - 1).trimEnd()}…` : words);

function few(all: readonly string[]): readonly string[] {
  const lines = [...new Set(all)];
  const more = lines.length - MOST_LINES;
  return more > 0 ? [...lines.slice(0, MOST_LINES), t().handover.andMore(more)] : lines;
}

function told(file: Case): readonly string[] {
  return [
    t().handover.quoted(clipped(file.complaint)),
    ...(file.comes_and_goes ? [t().handover.comesAndGoes] : []),
    ...(file.shows_when.length > 0 ? [t().handover.showsWhen(showsWords(file.shows_when))] : []),
  ];
}

const placed = (trade: Trade, { quantity, point }: ReadingStep): string => titleOf(trade.quantities, quantity) + (point && t().handover.at(point));

function valueOf(trade: Trade, step: ReadingStep): string {
  const value = measured(step.value, step.unit);
  const { expected, good } = judge(step, trade);
  return expected && good === false ? t().handover.expected(value, bandWords(expected)) : value;
}

/** One line for each thing measured at a place, with its twin after the repair beside it. */
function readingLines(file: Case, trade: Trade): readonly string[] {
  const last = (when: "before" | "after"): Map<string, ReadingStep> => new Map(file.readings.filter((each) => each.when === when).map((each) => [placed(trade, each), each]));
  const [before, after] = [last("before"), last("after")];
  return [...new Set([...before.keys(), ...after.keys()])].map((what) => {
    const [first, second] = [before.get(what), after.get(what)].map((each) => (each ? valueOf(trade, each) : ""));
    return first && second ? t().handover.beforeAfter(what, first, second) : t().handover.single(what, first || second || "");
  });
}

const testLines = (file: Case, trade: Trade): readonly string[] =>
  file.tests.map((each) => t().handover.single(titleOf(trade.tests, each.test), within(outcomeWords(trade, each.test, each.outcome))));

function found(file: Case, trade: Trade): readonly string[] {
  if (file.state === "closed") return [file.cause_title || titleOf(trade.causes, file.cause)].filter(Boolean).map(sentence);
  return [{ "no fault found": t().handover.notFound, declined: t().handover.declined, referred: t().handover.referred }[file.unresolved_reason ?? "no fault found"]];
}

function done(file: Case, trade: Trade): readonly string[] {
  const { correction } = file;
  const words = correction?.text || [correction?.action, titleOf(trade.components, correction?.component ?? null)].filter(Boolean).join(" ");
  // What did not cure and was not charged is the shop's own affair.
  const fitted = file.parts.filter((each) => each.charged || each.result === "cured");
  return [...(words ? [sentence(clipped(words))] : []), ...few(fitted.map((each) => t().handover.fitted(titleOf(trade.components, each.component), within(named(each.source)))))];
}

function proof(file: Case): readonly string[] {
  if (file.state !== "closed") return [];
  if (file.verification) return [sentence(clipped(file.verification))];
  return [file.verified ? t().handover.measuredAgain : t().handover.notMeasured];
}

/** The service's own sum; where the case was closed without signal, the phone's. */
function costLines(file: Case, { shop }: HandoverOptions): readonly string[] {
  const { labour } = file;
  const cost = file.cost.total > 0 ? file.cost : { ...sums(file, labour, { rate: labour.rate_per_hour ?? shop.rate_per_hour, other: file.cost.other }), currency: "" };
  const rows = [[t().handover.parts, cost.parts], [t().handover.labour, cost.labour], [t().handover.other, cost.other], [t().handover.total, cost.total]] as const;
  const line = (name: string, amount: number): string => t().handover.single(name, money(amount, cost.currency || shop.currency));
  return cost.total > 0 ? rows.filter(([, amount]) => amount > 0).map(([name, amount]) => line(name, amount)) : [];
}

/** The systems that were worked on. A fault that was not found may lie wherever it was looked for. */
function systemsOf(file: Case, trade: Trade): ReadonlySet<string> {
  const cause = file.cause_system ?? trade.causes.find((each) => each.id === file.cause)?.system;
  const parts = file.parts.map((part) => trade.components.find((each) => each.id === part.component)?.system);
  const tests = file.state === "closed" && cause ? [] : file.tests.map((done) => trade.tests.find((each) => each.id === done.test)?.system);
  return new Set([cause, ...parts, ...tests].filter((each) => each !== undefined && each !== null));
}

function watch(file: Case, trade: Trade): readonly string[] {
  const cautions = [...systemsOf(file, trade)].map((each) => (t().handover.care as Readonly<Record<string, string>>)[each] ?? "").filter(Boolean);
  const partly = file.parts.some((each) => each.result === "partly") && !file.parts.some((each) => each.result === "cured");
  return [...cautions, ...(partly ? [t().handover.half] : []), ...(file.comes_and_goes || file.state !== "closed" ? [t().handover.noteWhen] : []), t().handover.tellUs];
}

function workers(file: Case): string {
  const steps = [...file.tests, ...file.readings, ...file.parts, ...file.repairs];
  const names = [...new Set([...steps.map((each) => each.by), file.by].filter((each) => each !== null && each !== ""))];
  return names.length > 0 ? t().handover.by(names.join(", ")) : "";
}

/** Nothing of the note, of notes at steps, of skipped tests or objections; no member unless asked for; no VIN. */
export function handoverOf(file: Case, options: HandoverOptions): Handover {
  const { trade, shop, names, cost } = options;
  const date = day(file.closed ?? file.updated ?? file.opened);
  const distance = odometer(file.vehicle.odometer);
  const sections: readonly Section[] = [
    { title: t().handover.yourWords, lines: told(file) },
    { title: t().handover.measured, lines: few([...readingLines(file, trade), ...testLines(file, trade)]) },
    { title: t().handover.found, lines: found(file, trade) },
    { title: t().handover.done, lines: done(file, trade) },
    { title: t().handover.proof, lines: proof(file) },
    { title: t().handover.cost, lines: cost ? costLines(file, options) : [] },
    { title: t().handover.watch, lines: watch(file, trade) },
  ];
  return {
    shop: shop.name,
    car: [vehicleWords(file.vehicle), file.vehicle.engine].filter(Boolean).join(", "),
    when: [file.state === "closed" ? t().handover.day(date) : t().handover.openedDay(date), distance && t().handover.distance(distance)].filter(Boolean).join(" "),
    sections: sections.filter(({ lines }) => lines.length > 0),
    by: names ? workers(file) : "",
    foot: t().handover.foot,
  };
}

/** The page as plain text, to be sent by whatever the phone offers. */
export function handoverText({ shop, car, when, sections, by, foot }: Handover): string {
  const parts = sections.map(({ title, lines }) => [`${title}:`, ...lines.map((line) => `- ${line}`)].join("\n"));
  return [[shop, car, when].filter(Boolean).join("\n"), ...parts, by, foot].filter(Boolean).join("\n\n");
}
