/** Which tests may be offered for a complaint, and what keeps a member of this shop from one. */

import type { TradeTest } from "../wire";
import type { Engine } from "./engine";
import type { Posterior } from "./posterior";
import type { Question } from "./question";

export interface Bar {
  readonly note: string;
  /** The member said so, for a reason of the day. */
  readonly said: boolean;
  /** Only put off: the member alone can lift it. */
  readonly liftedHere: boolean;
}

/** What the asking member may do. */
export interface Asker {
  readonly skill: number;
  readonly rights: readonly string[];
}

const plain = (right: string): string => right.toLowerCase().split(/\s+/).filter(Boolean).join(" ");

function named(right: string): string {
  const bare = right.trim();
  return ["a", "an", "the"].includes(bare.split(" ")[0]?.toLowerCase() ?? "") ? bare : `the ${bare}`;
}

export function barOf(test: TradeTest, { body }: Question, { skill, rights }: Asker, { taught }: Engine): Bar | null {
  const held = new Set(rights.map(plain));
  const needed = new Set(taught.rights_needed.filter(([what]) => what === test.system || what === test.id).map(([, right]) => right));
  const tool = taught.lacking[test.id];
  const notes = [
    ...(test.skill > skill ? [`needs skill ${test.skill}`] : []),
    ...[...needed].filter((right) => !held.has(plain(right))).map((right) => `needs ${named(right)}`),
    ...(tool === undefined ? [] : [`the shop has no ${tool}`]),
  ];
  if (notes.length) return { note: notes.join("; "), said: false, liftedHere: false };
  const skipped = [...(body.skipped ?? [])].reverse().find((each) => each.test === test.id);
  if (!skipped) return null;
  const because = skipped.because ?? "other";
  return { note: `skipped: ${because}${skipped.note ? `, ${skipped.note}` : ""}`, said: true, liftedHere: because === "not now" };
}

/** Listed symptoms heard clearly enough to choose tests by. */
export function heardSymptoms({ heard }: Question, { figure, symptoms }: Engine): ReadonlySet<string> {
  const least = figure("offered", "HEARD_AT_LEAST");
  return new Set(heard.filter(({ symptom, chance }) => chance >= least && symptoms.has(symptom)).map(({ symptom }) => symptom));
}

function bySystem({ rows }: Posterior): Map<string, number> {
  const shares = new Map<string, number>();
  for (const { system, probability } of rows) if (system) shares.set(system, (shares.get(system) ?? 0) + probability);
  return shares;
}

/** Tests not yet done that serve the complaint, in the trade's order. */
export function offered(question: Question, posterior: Posterior, engine: Engine): readonly TradeTest[] {
  const { figure, symptoms, causes, trade } = engine;
  const heard = heardSymptoms(question, engine);
  const fair = figure("offered", "FAIR_SHARE");
  const shares = [...bySystem(posterior)].filter(([, share]) => share >= fair).map(([system]) => system);
  const systems = new Set([...[...heard].flatMap((symptom) => symptoms.get(symptom)?.systems ?? []), ...shares]);
  const done = new Set((question.body.tests ?? []).map(({ test }) => test));
  const likely = posterior.rows.filter(({ probability }) => probability >= figure("offered", "WORTH_PROVING"));
  const proofs = new Set(likely.map(({ cause }) => causes.get(cause)?.confirm_test));
  const serves = ({ for_symptoms, offer_for }: TradeTest): boolean =>
    for_symptoms.length ? for_symptoms.some((symptom) => heard.has(symptom)) : offer_for.includes("any") || offer_for.some((system) => systems.has(system));
  const fits = ({ only_if, system }: TradeTest): boolean =>
    !only_if.some((trait) => question.absent.has(trait)) && (systems.has(system) || only_if.every((trait) => question.present.has(trait)));
  return trade.tests.filter((test) => !done.has(test.id) && (proofs.has(test.id) || serves(test)) && fits(test));
}
