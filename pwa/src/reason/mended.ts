/** What to make of a mend that did not cure: a poor part, a second fault, or a test that misled. */

import type { Conflict } from "../wire";
import type { Engine } from "./engine";
import type { Tried } from "./tried";
import type { Split, Weighing } from "./weighing";

const superseded = ({ what }: Tried, later: readonly Tried[]): boolean => later.some((other) => other.what === what && other.result === "cured");

/** A title as it stands inside a sentence; abbreviations keep their capitals. */
function inside(title: string): string {
  const second = title.slice(1, 2);
  return second !== second.toUpperCase() ? title.slice(0, 1).toLowerCase() + title.slice(1) : title;
}

const done = ({ title, source }: Tried): string => (source ? `New ${inside(title)} (${source})` : `The repair (${title})`);

/** How to prove the mend itself. */
function proveIt({ source }: Tried): string {
  if (!source) return "Look at the repair again and measure it under load";
  if (source === "maker") return "Check fitting, connector and learning of the new part";
  return "Measure the new part against the maker's figures, or fit a maker's part";
}

/** After "partly": a poor part of the right kind, or a second fault, whichever is likelier. */
function halfCure(each: Tried, { still, elsewhere, two }: Split): Conflict {
  const said = `${done(each)} changed the complaint without curing it`;
  const steps = [each.what];
  if (still >= two) {
    const poor = each.source ? "but the part is poor" : "but not mended well";
    return { kind: "part", text: `${said}: ${still >= elsewhere ? "likely" : "perhaps"} the right place, ${poor}.`, remedy: `${proveIt(each)} before looking elsewhere.`, steps };
  }
  return { kind: "two faults", text: `${said}: there may be a second fault beside it.`, remedy: "Write down what still is wrong and test that as a complaint of its own.", steps };
}

function failedLater(each: Tried): Conflict {
  const remedy = each.source === "maker" ? "Look for what spoils it (water, heat, load, wiring), or for another fault, before another." : `${proveIt(each)} before looking elsewhere.`;
  return { kind: "part", text: `${done(each)} cured the complaint only for a while.`, remedy, steps: [each.what] };
}

/** The words of the test that had proved a cause the mend hits; null when none had. */
function proved(each: Tried, weighing: Weighing, { figure }: Engine): string | null {
  const { shown, results } = weighing;
  if (shown && each.hit[shown.column]) return shown.label;
  const before = weighing.beforeTried();
  const hit = before.reduce((sum, p, n) => sum + (each.hit[n] ? p : 0), 0);
  if (hit < figure("mended", "CONFIRMED")) return null;
  const mended = weighing.likeliest(each, before);
  const said = results.filter(({ test }) => test).map(({ log, label }) => ({ by: log[mended]! - log[log.length - 1]!, label }));
  const strongest = said.reduce((most, one) => (one.by > most.by || (one.by === most.by && one.label > most.label) ? one : most), { by: 0, label: "" });
  return strongest.by >= Math.log(figure("mended", "SPEAKS_OUT")) ? strongest.label : null;
}

/** After "no change" of what a test had proved bad: start again without it. */
function noCure(each: Tried, { still, two }: Split, by: string, { figure }: Engine): Conflict {
  const first = still >= figure("mended", "MAY_BE_DEAD") * two ? `${proveIt(each)}, then go on` : "Go on";
  return {
    kind: "two faults",
    text: `${each.title} was proved bad (${by}) and mended, yet the complaint stays.`,
    remedy: `${first} as if it had never been suspected: a second fault is likely, or that test misled.`,
    steps: [each.what],
  };
}

/** Half cures, cures that did not last, and proved faults mended in vain. */
export function ofMends(weighing: Weighing, engine: Engine): readonly Conflict[] {
  const { tried } = weighing;
  return tried.flatMap((each, place) => {
    if (superseded(each, tried.slice(place + 1))) return [];
    if (each.result === "partly") return [halfCure(each, weighing.split(each))];
    if (each.result === "failed later") return [failedLater(each)];
    const by = each.result === "no change" ? proved(each, weighing, engine) : null;
    return by === null ? [] : [noCure(each, weighing.split(each), by, engine)];
  });
}
