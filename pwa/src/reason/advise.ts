/** The front door: a complaint and the copy in, the whole answer out, in the form the service gives it. */

import type { Advice, AdviceBody, Case, CauseChance, Similar } from "../wire";
import { NO_VEHICLE } from "../wire";
import { barOf, heardSymptoms, offered } from "./bars";
import type { Asker } from "./bars";
import { ruledOutBefore } from "./before";
import { callQuestions } from "./calls";
import { conflictsOf } from "./conflicts";
import type { Engine } from "./engine";
import { layOut } from "./layout";
import { agreeingTests, matchesOf } from "./likeness";
import type { Match } from "./likeness";
import type { Memory } from "./memory";
import type { Pieces } from "./moved";
import { drawn, posteriorOf } from "./posterior";
import type { Posterior } from "./posterior";
import { priceSpan } from "./price";
import { understand } from "./question";
import type { Question } from "./question";
import { wordSharer } from "./shared-words";
import { bestFirst } from "./shown";
import { cautionsFor, nextStep } from "./steps";
import { tallyOf } from "./tally";
import { varied } from "./varied";
import { weigh } from "./weighed";
import type { Weighed } from "./weighed";
import { shown as measure } from "./wording";

export interface Asking {
  readonly body: AdviceBody;
  readonly asker: Asker;
  /** Cases that must not count, as when a stored case asks for itself. */
  readonly without?: readonly string[];
}

const MOST_CAUSES = 100;
const LEAST_UNNAMED = 0.001;
const SHOWN_CASES = 10;

/** The likeliest causes, as many as leave hardly anything unnamed; what is left is shared out among the named. */
function causesOf({ rows, unlisted }: Posterior, pieces: Pieces, explained: number): readonly CauseChance[] {
  const listed = 1 - unlisted;
  let named = 0;
  const found = [];
  for (const row of rows.slice(0, MOST_CAUSES)) {
    found.push(row);
    named += row.probability;
    if (listed - named <= LEAST_UNNAMED) break;
  }
  return found.map(({ cause, title, probability, cases, system, fromCases }, n) => ({
    cause,
    title,
    probability: (probability * listed) / named,
    cases,
    system,
    from: cases ? `${cases} of your cases` : "trade knowledge",
    moved: n < explained ? pieces.moved(cause, cases) : [],
    from_cases: fromCases,
  }));
}

const carWords = ({ year, make, model, engine }: Case["vehicle"]): string => [year, make, model, engine].filter(Boolean).join(" ");

/** Agreeing readings as a member reads them. */
function readingsWords({ doc }: Match, { judged }: Question, { meter, trade }: Engine): readonly string[] {
  if (!judged.length || !doc.judged.length) return [];
  const words = meter.agreement(judged, doc.judged).agreeing.map(({ shown: { quantity, value, unit, verdict } }) => {
    const title = trade.quantities.find(({ id }) => id === quantity)?.title ?? quantity;
    return `${title} ${measure(value ?? NaN, unit)} (${verdict})`;
  });
  return [...new Set(words)];
}

function similarOf(match: Match, words: readonly string[], question: Question, engine: Engine): Similar {
  const { doc: { file }, chance, shared } = match;
  const { symptoms, causes } = engine;
  return {
    case: file.id,
    title: file.title || file.complaint,
    chance,
    cause: file.cause,
    cause_title: file.cause_title || (causes.get(file.cause ?? "")?.title ?? ""),
    correction: file.correction?.text || file.correction?.action || null,
    vehicle: carWords(file.vehicle),
    state: file.state,
    why: { words, codes: shared.codes, symptoms: shared.symptoms.map((id) => symptoms.get(id)?.title ?? id), vehicle: shared.vehicle, readings: readingsWords(match, question, engine), tests: agreeingTests(question.body.tests ?? [], file.tests, engine) },
  };
}

function planned(question: Question, posterior: Posterior, dropped: Pieces["dropped"], { engine, asker }: { readonly engine: Engine; readonly asker: Asker }): { weighed: Weighed; next: Advice["next"] } {
  const layout = layOut(question, posterior, offered(question, posterior, engine), engine);
  const found = layout.tests.map((test, n) => [n, barOf(test, question, asker, engine)] as const);
  const bars = new Map(found.flatMap(([n, bar]) => (bar ? [[n, bar] as const] : [])));
  const weighed = weigh({ question, posterior, layout, engine, bars, dropped });
  const next = nextStep(weighed);
  const lasting = new Map([...bars].filter(([, bar]) => !bar.liftedHere));
  if (lasting.size === bars.size || !["replace", "refer"].includes(next.do)) return { weighed, next };
  // Tests only put off come back when nothing else is worth testing.
  const again = weigh({ question, posterior, layout, engine, bars: lasting, dropped });
  return { weighed: again, next: nextStep(again) };
}

export function advise({ body, asker, without = [] }: Asking, engine: Engine, memory: Memory): Advice {
  const question = understand(body, engine, memory);
  const leaveOut = new Set(without);
  const weights = memory.termWeights(question.analysis);
  const wanted = { analysis: question.analysis, codes: question.codes, heard: question.heard, systems: [...question.systems.keys()], model: question.car.model };
  const sounds = memory.sounds({ weights, heard: question.heard }, leaveOut, engine.systems);
  const matches = matchesOf(question, memory.candidates(wanted, weights, leaveOut), { engine, memory, weights, sounds });
  const counts = without.some((id) => memory.doc(id)?.file.state === "closed");
  const tally = counts ? tallyOf(memory.docs.map(({ file }) => file).filter(({ id }) => !leaveOut.has(id)), engine.figure) : memory.tally;
  const posterior = posteriorOf(question, matches, engine, tally);
  const pieces = posterior.pieces();
  const { weighed, next } = planned(question, posterior, pieces.dropped, { engine, asker });
  const clear = heardSymptoms(question, engine);
  const cases = varied(drawn(matches, posterior, engine), engine.figure("varied", "FURTHER"));
  const words = wordSharer(question, { weights, memory, most: engine.figure("sharedwords", "MOST_WORDS") });
  const kinds = { yearBand: engine.figure("nearness", "YEAR_BAND"), most: engine.figure("cars", "MOST_ENGINES") };
  return {
    cases: cases.slice(0, body.limit ?? SHOWN_CASES).map((match) => similarOf(match, words(match.doc), question, engine)),
    causes: causesOf(posterior, pieces, engine.figure("rows", "EXPLAINED")),
    unlisted: posterior.unlisted,
    tests: bestFirst(weighed, next),
    next,
    readings: question.judged.map(({ shown }) => shown),
    read_as: question.readAs,
    cautions: cautionsFor(next, weighed),
    symptoms: question.heard.filter(({ symptom }) => clear.has(symptom)).map(({ symptom, chance }) => ({ symptom, title: engine.symptoms.get(symptom)?.title ?? symptom, chance })),
    dropped: pieces.dropped,
    conflicts: conflictsOf(question, posterior, pieces.withoutResult, engine),
    ruled_out: ruledOutBefore(question, cases, posterior, engine),
    price: priceSpan(cases, engine),
    questions: callQuestions(question, posterior, engine),
    car: { vehicle: { ...NO_VEHICLE, ...body.vehicle, ...question.car, traits: [...question.car.traits] } as NonNullable<Advice["car"]>["vehicle"], origins: question.origins, engines: question.car.engine ? [] : memory.cars.engines(question.car, kinds) },
    revision: engine.taught.revision,
  };
}
