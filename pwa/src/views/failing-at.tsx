/** The parts of what keeps failing: a way to each, and the place it begins. */
import type { ComponentChildren, JSX } from "preact";

import { PARTS, type Part } from "../model/failing-view";
import { PickOne } from "../ui/chips";
import { t } from "../texts";

const WORDS: Readonly<Record<Part, string>> = { get rows() { return t().failing.keepsFailing; }, get parts() { return t().failing.parts; }, get glance() { return t().failingDrawn.atAGlance; }, get office() { return t().failingOffice.moneyAndMinutes; }, get care() { return t().failing.toDo; } };
const id = (part: Part): string => `at-${part}`;

/** The strip above stays in sight. */
export const At = ({ part, children }: { part: Part; children: ComponentChildren }): JSX.Element => <div id={id(part)} class="place" style={{ scrollMarginTop: "4.5rem" }}>{children}</div>;

export const goTo = (part: Part): void => document.getElementById(id(part))?.scrollIntoView();

export function Ways({ at, onAt }: { at: Part | ""; onAt: (part: Part) => void }): JSX.Element {
  return <div class="place"><PickOne label={t().failing.goTo} shown={false} value={at} choices={PARTS.map((value) => ({ value, label: WORDS[value] }))} onPick={(part) => onAt(part as Part)} /></div>;
}
