/** The parts of what keeps failing: on a phone one of them is unfolded, and the ways to all lie at the thumb. */
import type { ComponentChildren, JSX } from "preact";
import { useContext, useEffect, useId } from "preact/hooks";

import { PARTS, type Part } from "../model/failing-view";
import { PickOne } from "../ui/chips";
import { Kept } from "./failing-kept";
import { t } from "../texts";

const WORDS: Readonly<Record<Part, string>> = {
  get alerts() { return t().failingAlerts.newToHearOf; },
  get rows() { return t().failing.keepsFailing; },
  get parts() { return t().failing.parts; },
  get glance() { return t().failingDrawn.atAGlance; },
  get office() { return t().failingOffice.moneyAndMinutes; },
  get care() { return t().failing.toDo; },
};
const id = (part: Part): string => `at-${part}`;

/** A part under its name and what it comes to in one sentence; what is folded is there all the same, for print. */
export function At({ part, says, children }: { part: Part; says?: string | false | undefined; children: ComponentChildren }): JSX.Element {
  const { at, whole, onAt } = useContext(Kept);
  const inside = useId();
  const open = at === part;
  if (whole) return <div id={id(part)} class="place at">{children}</div>;
  return (
    <section id={id(part)} class="place at folded">
      <h2><button type="button" class="at-head" aria-expanded={open} aria-controls={inside} onClick={() => onAt(open ? "" : part)}><b>{WORDS[part]}</b>{says && <span>{says}</span>}</button></h2>
      <div id={inside} class="stack" hidden={!open}>{children}</div>
    </section>
  );
}

/** Once what was chosen is drawn, it is gone to. */
export const goTo = (part: Part | ""): void => void requestAnimationFrame(() => (part ? document.getElementById(id(part))?.scrollIntoView() : scrollTo(0, 0)));

export function Ways(): JSX.Element {
  const { at, onAt } = useContext(Kept);
  useEffect(() => document.querySelector(".ways [aria-pressed=true]")?.scrollIntoView({ block: "nearest", inline: "center" }), [at]);
  const choices = [{ value: "", label: t().failingNow.now }, ...PARTS.map((value) => ({ value, label: WORDS[value] }))];
  return <nav class="ways" aria-label={t().failing.goTo}><PickOne label={t().failing.goTo} shown={false} value={at} choices={choices} onPick={(part) => onAt(part as Part | "")} /></nav>;
}
