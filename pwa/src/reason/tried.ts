/** What parts fitted and repairs done say: the fault stays there, lies elsewhere, or was one of two. */

import type { AdviceBody } from "../wire";
import type { Columns } from "./columns";
import type { Engine } from "./engine";
import { oftenAway } from "./evidence";

export interface Tried {
  readonly label: string;
  /** The causes it mends. */
  readonly hit: readonly boolean[];
  /** log P(result | cause) as if there were one fault. */
  readonly log: Float64Array;
  /** P(result | a hit fault is mended and another stays). */
  readonly second: number;
}

type Worth = readonly [dead: number, half: number, later: number];

export function triedOf({ parts = [], repairs = [], ...body }: AdviceBody, columns: Columns, { lists, figure, components }: Engine): readonly Tried[] {
  const { causes } = lists;
  const usual = oftenAway(body) ? causes.elsewhere_away : causes.elsewhere;
  const made = (label: string, hit: readonly boolean[], [dead, half, later]: Worth, result: string): Tried => {
    const works = 1 - dead - half - later;
    const stays = { "no change": dead, partly: half, "failed later": later, cured: works }[result] ?? works;
    const second = figure("tried", "SECOND_FAULT") * works * (causes.two_show_as[result] ?? 0);
    return { label, hit, log: Float64Array.from(hit, (yes) => Math.log(yes ? stays : (usual[result] ?? 1))), second };
  };
  const fitted = parts.flatMap(({ component, source, result }) => {
    const known = components.get(component);
    if (!result || !known) return [];
    return [made(`New ${known.title} (${source}): ${result}`, columns.ofComponent(component, true), causes.sources[source] ?? causes.repair, result)];
  });
  const repaired = repairs.map(({ cause, result }) => made(`Repair without a part, ${columns.title(cause)}: ${result}`, columns.only(cause), causes.repair, result));
  return [...fitted, ...repaired].filter(({ hit }) => hit.some(Boolean));
}
