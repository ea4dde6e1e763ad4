/** The one next step: test, replace, ask or refer, and why. */

import type { Next } from "../wire";
import { heardSymptoms } from "./bars";
import { REPRODUCES } from "./evidence";
import type { Mend } from "./layout";
import { replaceAbove } from "./line";
import { tellsApartOf } from "./shown";
import { beforeBuying, bestProver, chanceOf, confirmed, moneyOf, openOf, provedSafe, spentOf, titleOf } from "./weighed";
import type { Weighed } from "./weighed";
import { bestOf } from "./quick";
import { lines, minutes, percent, setupWords, short, tellsApart } from "./wording";

const NOTHING: Next = {
  do: "refer", why: "", test: null, cause: null, title: null, component: null, part_source: null, expected_cost: null, currency: null, question: null, options: [],
};

export function nextStep(weighed: Weighed): Next {
  const { posterior, engine, question, layout } = weighed;
  const at = (name: string): number => engine.figure("steps", name);
  if (spentOf(weighed) >= at("LONG_MIN") && (posterior.rows[0]?.probability ?? 0) < at("LIKELY"))
    return refer(weighed, `Nothing is likely after ${spentOf(weighed).toFixed(0)} minutes.`);
  const asked = questionToAsk(weighed);
  if (asked) return asked;
  const [kind, index] = weighed.first;
  const verify = openOf(weighed).find((n) => layout.tests[n]?.id === REPRODUCES);
  if (kind !== "repair" && verify !== undefined && question.body.comes_and_goes)
    return testStep(weighed, verify, "It comes and goes: see it first, an ok proves little while it is away.", { saves: "; in the conditions it shows in", more: "" });
  if (kind === "test") return test(weighed, beforeBatteryOff(weighed, whileUp(weighed, index)));
  return kind === "repair" ? repair(weighed, layout.mends[index]!) : nothingPays(weighed);
}

/** A question to the customer where the words leave several symptoms open, or none was heard. */
function questionToAsk({ question, posterior, engine }: Weighed): Next | null {
  const at = (name: string): number => engine.figure("asking", name);
  const { body, codes } = question;
  if (body.symptoms?.length || body.tests?.length || (posterior.rows[0]?.probability ?? 0) >= at("KNOWN_WELL")) return null;
  const heard = question.heard.filter(({ symptom }) => engine.symptoms.has(symptom));
  const best = Math.max(0, ...heard.map(({ chance }) => chance));
  const options = (ids: readonly string[]): Next["options"] => ids.slice(0, at("MOST_OPTIONS")).map((symptom) => ({ symptom, title: engine.symptoms.get(symptom)?.title ?? symptom }));
  if (best >= at("CLEAR")) return null;
  if (best < at("FAINT")) {
    if (codes.length) return null;
    const usual = new Map<string, string>();
    for (const { cause } of posterior.rows) {
      const known = engine.causes.get(cause);
      if (known && !usual.has(known.system)) usual.set(known.system, known.symptoms[0] ?? "");
      if (usual.size >= at("MOST_OPTIONS")) break;
    }
    const ids = [...new Set([...heard.map(({ symptom }) => symptom), ...usual.values()])];
    const question = "Which comes closest, and when does it show: hot, cold, wet, on bumps, under load?";
    return { ...NOTHING, do: "ask", why: "No known complaint was recognised in the words.", question, options: options(ids) };
  }
  const near = heard.filter(({ chance }) => chance >= at("NEAR_TIE") * best).map(({ symptom }) => symptom);
  if (near.length < 2) return null;
  const why = `The words fit ${Math.min(near.length, at("MOST_OPTIONS"))} different complaints; the answer decides which causes count.`;
  return { ...NOTHING, do: "ask", why, question: "Which is it?", options: options(near) };
}

/** A test on the lift worth doing before the car comes down. */
function whileUp({ layout, choice, near, saves, engine }: Weighed, chosen: number): number {
  if (!layout.now?.state?.raised || layout.tests[chosen]?.state?.raised) return chosen;
  const most = bestOf(choice) * (1 + engine.figure("staying", "WORTH_STAYING"));
  const up = near.map((n, t) => ({ n, cost: choice.byTest[t]! })).filter(({ n, cost }) => layout.tests[n]?.state?.raised && cost <= most && saves[n]! >= engine.figure("staying", "SOME_USE_MIN"));
  return up.sort((a, b) => a.cost - b.cost)[0]?.n ?? chosen;
}

/** A worthwhile test of what the car remembers, where the chosen one would make it forget. */
function beforeBatteryOff(weighed: Weighed, chosen: number): number {
  const { layout, saves, engine } = weighed;
  const marks = (n: number): string => engine.lists.tests[layout.tests[n]?.id ?? ""] ?? "";
  if (!marks(chosen).includes("d")) return chosen;
  const least = Math.max(engine.figure("staying", "FAIR_SHARE_SAVED") * saves[chosen]!, engine.figure("staying", "SOME_USE_MIN"));
  const first = openOf(weighed).filter((n) => marks(n).includes("m") && saves[n]! >= least);
  return first.sort((a, b) => saves[b]! - saves[a]!)[0] ?? chosen;
}

/** The leading cause that a result pushed down. */
function fell({ dropped: [first] }: Weighed): string | null {
  return first ? `${first.title} fell from ${percent(first.before)} to ${percent(first.after)} (${first.by}).` : null;
}

/** The chance above which the leading repair is done without any test left. */
function untestedAbove(weighed: Weighed): string | null {
  const { layout, posterior, close, engine } = weighed;
  const leading = layout.mends.find(({ cures }) => cures.includes(posterior.rows[0]?.cause ?? ""));
  if (!leading || leading.safety) return null;
  const floor = beforeBuying(weighed, leading) === null ? 0 : engine.figure("proof", "NEAR_SURE");
  const line = replaceAbove(close, layout.mends.indexOf(leading), floor, engine.figure);
  return line === null ? null : `${short(titleOf(weighed, leading), 50)}: replace untested above ${percent(line)}.`;
}

interface Because {
  readonly saves?: string;
  readonly more?: string;
  readonly cause?: string | undefined;
}

function testStep(weighed: Weighed, place: number, because: string, { saves = "", more, cause }: Because = {}): Next {
  const { layout, posterior, engine, choice } = weighed;
  const chosen = layout.tests[place]!;
  const takes = `${minutes(layout.minutes(place))}, ${setupWords(chosen, engine.lists.tests[chosen.id] ?? "")}`;
  return {
    ...NOTHING,
    do: "test",
    why: lines(because, `${takes}${saves}.`, more ?? fell(weighed)),
    test: chosen.id,
    title: chosen.title,
    cause: cause ?? posterior.rows[0]?.cause ?? null,
    expected_cost: moneyOf(weighed, bestOf(choice)),
    currency: engine.taught.currency,
  };
}

const test = (weighed: Weighed, place: number): Next =>
  testStep(weighed, place, tellsApart(tellsApartOf(weighed.layout, place)), { saves: `; saves about ${minutes(Math.max(weighed.saves[place]!, 0))}`, more: fell(weighed) ?? untestedAbove(weighed) ?? "" });

function repair(weighed: Weighed, mend: Mend): Next {
  const title = titleOf(weighed, mend);
  if (mend.safety && !provedSafe(weighed, mend)) {
    const proof = bestProver(weighed, mend, openOf(weighed));
    if (proof === null) return refer(weighed, `Must be proved before parts, and no test left here can: ${title}.`);
    return testStep(weighed, proof, `Safety: prove before any part: ${title}.`, { cause: mend.cures[0] });
  }
  const proof = beforeBuying(weighed, mend);
  if (proof !== null) {
    const part = `It is ${percent(chanceOf(weighed, mend))} likely, and its part costs about ${moneyOf(weighed, mend.part).toFixed(0)} ${weighed.engine.taught.currency}.`;
    return testStep(weighed, proof, `Confirm before buying: ${title}.`, { more: part, cause: mend.cures[0] });
  }
  if (bestBarred(weighed) !== null && chanceOf(weighed, mend) < 0.5)
    return refer(weighed, `The likeliest repair is only ${percent(chanceOf(weighed, mend))} likely to cure.`);
  return replace(weighed, mend);
}

function replace(weighed: Weighed, mend: Mend): Next {
  const { posterior, engine, layout, choice, question } = weighed;
  const [cause = ""] = mend.cures;
  const done = new Set((question.body.tests ?? []).map((each) => each.test));
  const drives = engine.lists.causes.drives[cause]?.find((id) => !done.has(id));
  const why = mend.cures.includes(posterior.settled ?? "")
    ? "A test showed it; do not test further."
    : confirmed(weighed, mend)
      ? "It is proved or near sure; no test left saves more than it costs."
      : "No test left saves more than it costs.";
  return {
    ...NOTHING,
    do: "replace",
    why: lines(
      `${short(titleOf(weighed, mend), 70)}: ${percent(chanceOf(weighed, mend))}.`,
      why,
      drives === undefined ? fell(weighed) : `First measure what it drives, or the new one dies too: ${engine.tests.get(drives)?.title ?? drives}.`,
    ),
    cause,
    title: titleOf(weighed, mend),
    component: mend.component,
    part_source: mend.source as Next["part_source"],
    expected_cost: moneyOf(weighed, choice.byRepair[layout.mends.indexOf(mend)]!),
    currency: engine.taught.currency,
  };
}

/** The barred test that saves most, if that is much; what was only put off is not barred. */
function bestBarred({ bars, saves, engine }: Weighed): number | null {
  const barred = [...bars].filter(([, bar]) => !bar.liftedHere).map(([n]) => n);
  const best = barred.sort((a, b) => saves[b]! - saves[a]!)[0];
  return best !== undefined && saves[best]! >= engine.figure("referring", "WORTH_A_CERTIFICATE_MIN") ? best : null;
}

function refer(weighed: Weighed, because: string): Next {
  const { posterior, choice, layout, bars, engine } = weighed;
  const first = posterior.rows[0];
  const [cost, barred] = [moneyOf(weighed, choice.refer), bestBarred(weighed)];
  const missing = barred === null ? null : `${layout.tests[barred]?.title ?? ""} would tell; ${bars.get(barred)?.note ?? ""}.`;
  const left = first ? `Likeliest left: ${first.title} at ${percent(first.probability)}.` : null;
  const { currency } = engine.taught;
  return { ...NOTHING, why: lines(because, missing ?? left, `Given away it comes to about ${cost.toFixed(0)} ${currency}.`), cause: first?.cause ?? null, expected_cost: cost, currency };
}

function nothingPays(weighed: Weighed): Next {
  const { byTest, byRepair, refer: away } = weighed.choice;
  const left = Math.min(...byTest, ...byRepair);
  if (!Number.isFinite(left)) return refer(weighed, "No test and no repair is left here.");
  return refer(weighed, `All that is left here comes to ${minutes(left)}, giving it away to ${minutes(away)}.`);
}

/** Texts to read before the step: the complaint's own warnings, then the cautions of test or system. */
export function cautionsFor(next: Next, { question, engine }: Weighed): readonly string[] {
  const { trade, lists, symptoms, causes, tests } = engine;
  const grave = [...heardSymptoms(question, engine)].filter((id) => lists.not_to_drive.includes(id)).sort();
  const warns = [
    ...(grave.length ? [`Do not drive it until this is checked: ${grave.map((id) => symptoms.get(id)?.title ?? id).join(", ")}.`] : []),
    ...(engine.codes.lowBattery(question.codes) ? ["These codes together look like low voltage: prove battery and grounds first."] : []),
    ...(question.body.comes_and_goes
      ? ["It comes and goes: an ok proves little while it is away. Test in its conditions (hot, cold, wet, bumps, load) and write them down."]
      : []),
  ];
  const chosen = next.test === null ? undefined : tests.get(next.test);
  const system = chosen?.system ?? (next.do === "replace" ? causes.get(next.cause ?? "")?.system : undefined);
  const ids = new Set([...(chosen?.cautions ?? []), ...(trade.systems.find(({ id }) => id === system)?.cautions ?? [])]);
  const listed = [...ids].flatMap((id) => trade.cautions.find((each) => each.id === id) ?? []);
  return [...warns, ...listed.map(({ title, text }) => `${title}. ${text}`)];
}
