/** The job tag: what to do next, on manila, with tear-off stubs for what was seen. */
import type { ComponentChildren, JSX } from "preact";

import { Shape, type ShapeName } from "./shape";
import { t } from "../texts";

export function Tag({ word, number, full, children, label }: { word: string; number?: string; full?: boolean; children: ComponentChildren; label: string }): JSX.Element {
  return (
    <section class={`tag fresh${full ? " full" : ""}`} aria-label={label}>
      <div class="tag-head">
        <span class="tag-do">{word}</span>
        <span class="hole" aria-hidden="true" />
        <span class={/^\d/.test(number ?? "") ? "stencil" : "tag-do"}>{number}</span>
      </div>
      {children}
    </section>
  );
}

export interface Fact {
  name: string;
  value: ComponentChildren;
}

export function Facts({ facts }: { facts: readonly Fact[] }): JSX.Element {
  return (
    <dl class="facts">
      {facts.map((each) => (
        <div key={each.name}>
          <dt>{each.name}</dt>
          <dd>{each.value}</dd>
        </div>
      ))}
    </dl>
  );
}

interface StubProps {
  title: string;
  then?: string;
  shape?: ShapeName;
  pressed?: boolean;
  /** Half the width of the tag: "half", or "half last" for an odd one out. */
  half?: "half" | "half last";
  onTap: () => void;
}

export function Stub({ title, then, shape = "ring", pressed, half, onTap }: StubProps): JSX.Element {
  return (
    <button type="button" class={half ? `stub ${half}` : "stub"} aria-pressed={pressed} onClick={onTap}>
      <Shape name={shape} />
      <span>
        {title}
        {then && <span class="then">{then}</span>}
      </span>
    </button>
  );
}

const AT_ONCE = 2;

const lines = (some: readonly string[]): JSX.Element => <ul>{some.map((each) => <li key={each}>{each}</li>)}</ul>;

/** Cautions before anything else: the first in sight, the others one tap away. */
export function Cautions({ titles }: { titles: readonly string[] }): JSX.Element | null {
  const rest = titles.slice(AT_ONCE);
  if (titles.length === 0) return null;
  const first = <><Shape name="alert" />{lines(titles.slice(0, AT_ONCE))}</>;
  if (rest.length === 0) return <section class="cautions" aria-label={t().ui.cautionsFirst}><div class="first">{first}</div></section>;
  return (
    <details class="cautions" aria-label={t().ui.cautionsFirst}>
      <summary class="first">{first}<span>+{rest.length}<span class="spoken"> {t().ui.moreCautions}</span></span></summary>
      {lines(rest)}
    </details>
  );
}
