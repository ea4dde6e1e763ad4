/** What parts fitted and repairs done say: the fault stays there, lies elsewhere, or was one of two. */

import type { AdviceBody } from "../wire";
import type { Columns } from "./columns";
import type { Engine } from "./engine";
import { oftenAway } from "./evidence";

export interface Tried {
  readonly label: string;
  /** The component or the cause. */
  readonly what: string;
  readonly title: string;
  readonly result: string;
  /** Empty for a repair. */
  readonly source: string;
  /** The causes it mends. */
  readonly hit: readonly boolean[];
  /** log P(result | cause) as if there were one fault. */
  readonly log: Float64Array;
  /** P(result | a hit fault is mended and another stays). */
  readonly second: number;
}

type Thing = Omit<Tried, "log" | "second">;
type Worth = readonly [dead: number, half: number, later: number];

export function triedOf({ parts = [], repairs = [], ...body }: AdviceBody, columns: Columns, { lists, figure, components }: Engine): readonly Tried[] {
  const { causes } = lists;
  const usual = oftenAway(body) ? causes.elsewhere_away : causes.elsewhere;
  const made = (thing: Thing, [dead, half, later]: Worth): Tried => {
    const { hit, result } = thing;
    const works = 1 - dead - half - later;
    const stays = { "no change": dead, partly: half, "failed later": later, cured: works }[result] ?? works;
    const second = figure("tried", "SECOND_FAULT") * works * (causes.two_show_as[result] ?? 0);
    return { ...thing, log: Float64Array.from(hit, (yes) => Math.log(yes ? stays : (usual[result] ?? 1))), second };
  };
  const fitted = parts.flatMap(({ component, source, result }) => {
    const known = components.get(component);
    if (!result || !known) return [];
    const thing = { label: `New ${known.title} (${source}): ${result}`, what: component, title: known.title, result, source, hit: columns.ofComponent(component, true) };
    return [made(thing, causes.sources[source] ?? causes.repair)];
  });
  const repaired = repairs.map(({ cause, result }) => {
    const title = columns.title(cause);
    return made({ label: `Repair without a part, ${title}: ${result}`, what: cause, title, result, source: "", hit: columns.only(cause) }, causes.repair);
  });
  return [...fitted, ...repaired].filter(({ hit }) => hit.some(Boolean));
}
