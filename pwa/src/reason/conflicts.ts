/** Evidence that does not fit together, in a technician's words, each with what to do about it. */

import type { Conflict, TestBody, TradeTest } from "../wire";
import type { Columns } from "./columns";
import type { Engine } from "./engine";
import { asRead } from "./evidence";
import type { Evidence } from "./evidence";
import { ofMends } from "./mended";
import type { Posterior } from "./posterior";
import type { Question } from "./question";
import type { JudgedReading } from "./readings";
import { laterTests } from "./tally";

const means = ({ outcomes }: TradeTest, outcome: string): string => outcomes.find(({ id }) => id === outcome)?.means ?? outcome;

/** A cause objected to that everything else speaks for. */
function objections({ weighing, columns }: Posterior, without: readonly Float64Array[], { figure, causes }: Engine): Conflict[] {
  return weighing.results.flatMap(({ objected }, place) => {
    if (!objected || without[place]![columns.at.get(objected.cause)!]! < figure("conflicts", "SPOKE_FOR")) return [];
    return [
      {
        kind: "outcome",
        text: `${columns.title(objected.cause)} was objected to (${objected.because}), yet all else speaks for it.`,
        remedy: "Prove it once more under load, or take the objection back.",
        steps: [causes.get(objected.cause)?.component ?? objected.cause],
      },
    ];
  });
}

/** Whether a reading fits the outcome; null where it cannot tell. */
function agrees({ reading, shown, verdict }: JudgedReading, test: TradeTest, outcome: string, { meter }: Engine): boolean | null {
  const ruled = test.outcomes.filter(({ rule }) => rule);
  const apart = (reading.when ?? "before") !== "before" || shown.needs.length > 0 || verdict === "implausible";
  if (apart || !ruled.some(({ rule }) => rule?.quantity === reading.quantity)) return null;
  const met = ruled.filter(({ rule }) => rule && meter.meets(reading, rule)).map(({ id }) => id);
  if (met.includes(outcome)) return true;
  return met.length || ruled.some(({ id }) => id === outcome) ? false : null;
}

/** A reading that says another outcome of a test done by hand than the one tapped. */
function readings({ body, judged }: Question, engine: Engine): Conflict[] {
  return laterTests(body.tests ?? []).flatMap((done) => {
    const test = engine.tests.get(done.test);
    if (!test || done.fault_present === false || !test.outcomes.some(({ id }) => id === done.outcome)) return [];
    const said = judged.map((each) => agrees(each, test, done.outcome, engine));
    const odd = judged.filter((_, place) => said[place] === false).at(-1);
    if (!odd || said.includes(true)) return [];
    return [
      {
        kind: "reading",
        text: `${asRead(odd, engine)} does not go with "${means(test, done.outcome)}" of ${test.title}.`,
        remedy: "Read it again under load at the same point, check the unit, and correct whichever is wrong.",
        steps: [test.id, odd.reading.quantity],
      },
    ];
  });
}

/** Whether two doings of a test showed different things; a part picked by one alone is no difference. */
const otherwise = (one: TestBody, other: TestBody): boolean => one.outcome !== other.outcome || Boolean(one.part && other.part && one.part !== other.part);

/** A test done again with another outcome while the fault was equally there. */
function repeats(tests: readonly TestBody[], { tests: listed }: Engine, columns: Columns): Conflict[] {
  const present = ({ fault_present }: TestBody): boolean => fault_present ?? true;
  return [...new Map(tests.map((done) => [done.test, done])).values()].flatMap((done) => {
    const test = listed.get(done.test);
    const before = tests.filter((each) => each.test === done.test && present(each) === present(done));
    const other = [...before].reverse().find((each) => otherwise(each, done));
    if (!test || !other) return [];
    const [first, later] = [other, done].map(({ outcome, part }) => means(test, outcome) + (part ? ` (${columns.title(part)})` : ""));
    return [
      {
        kind: "outcome",
        text: `${test.title} showed "${first}" and, done again, "${later}"; the later counts.`,
        remedy: "If nothing was mended in between, do it once more in the conditions the fault shows in.",
        steps: [test.id],
      },
    ];
  });
}

/** Two outcomes that some cause explains each, but none in question explains together. */
function pairs({ weighing }: Posterior, { figure }: Engine): Conflict[] {
  const at = (name: string): number => figure("conflicts", name);
  const likely = [...weighing.prior.keys()].filter((column) => weighing.prior[column]! >= at("IN_QUESTION"));
  const tests = weighing.results.filter(({ test }) => test);
  const best = (...logs: readonly Float64Array[]): number => likely.reduce((most, column) => Math.max(most, Math.exp(logs.reduce((sum, log) => sum + log[column]!, 0))), 0);
  return tests.flatMap((one, place) =>
    tests.slice(place + 1).flatMap((other) => {
      const [first, second] = [best(one.log), best(other.log)];
      if (Math.min(first, second) < at("WELL_EXPLAINED") || best(one.log, other.log) >= at("JOINTLY") * first * second) return [];
      return [
        {
          kind: "outcome",
          text: `${one.label}, yet ${other.label}: no single cause explains both well.`,
          remedy: "Do the quicker of the two again, under load and with the fault there; if both stand, think of two faults.",
          steps: [one.test, other.test],
        },
      ];
    }),
  );
}

/** Whether the leader would hardly show the result while the other causes would. */
function atOdds({ log }: Evidence, leader: number, without: Float64Array, { figure }: Engine): boolean {
  let [shown, rest] = [0, 0];
  without.forEach((p, column) => {
    if (column === leader) return;
    shown += p * Math.exp(log[column]!);
    rest += p;
  });
  const chance = Math.exp(log[leader]!);
  return chance < figure("conflicts", "UNLIKELY") && shown / Math.max(rest, 1e-12) >= figure("conflicts", "TIMES_LESS") * chance;
}

/** An outcome that the leading cause would hardly show while the other causes would. */
function outcomes({ weighing, byColumn, columns }: Posterior, without: readonly Float64Array[], engine: Engine): Conflict[] {
  const leader = byColumn.subarray(0, -1).reduce((best, p, column) => (p > byColumn[best]! ? column : best), 0);
  if (byColumn[leader]! < engine.figure("conflicts", "LEADS")) return [];
  const odd = weighing.results.filter((result, place) => result.test && atOdds(result, leader, without[place]!, engine));
  return odd.map(({ label, test }) => ({
    kind: "outcome",
    text: `${label} is not what ${columns.title(columns.ids[leader]!)} shows, which leads by everything else.`,
    remedy: "Do this test again under load with the fault there before buying for either.",
    steps: [test],
  }));
}

/** Parts and repairs first, then objections, readings, repeats, pairs, single outcomes. */
export function conflictsOf(question: Question, posterior: Posterior, without: readonly Float64Array[], engine: Engine): readonly Conflict[] {
  const paired = pairs(posterior, engine);
  const told = new Set(paired.flatMap(({ steps }) => steps));
  return [
    ...ofMends(posterior.weighing, engine),
    ...objections(posterior, without, engine),
    ...readings(question, engine),
    ...repeats(question.body.tests ?? [], engine, posterior.columns),
    ...paired,
    ...outcomes(posterior, without, engine).filter(({ steps }) => !steps.some((step) => told.has(step))),
  ];
}
