/** Listed causes to choose from, those of the systems at hand first. */
import type { Choice } from "../ui/field";
import type { Trade } from "../wire";
import { t } from "../texts";

export function causeChoices(trade: Trade, systems: readonly string[]): Choice[] {
  const near = (system: string): number => (systems.includes(system) ? 0 : 1);
  const sorted = [...trade.causes].sort((a, b) => near(a.system) - near(b.system));
  return [{ value: "", label: t().causeChoices.choose }, ...sorted.map((each) => ({ value: each.id, label: each.title }))];
}
