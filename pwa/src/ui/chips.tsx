/** Short choices to tap, and short entries to take away. */
import type { JSX } from "preact";
import { useId } from "preact/hooks";

import type { Choice } from "./field";
import { t } from "../texts";

export function PickOne({ label, choices, value, onPick, shown = true }: { label: string; choices: readonly Choice[]; value: string; onPick: (value: string) => void; shown?: boolean }): JSX.Element {
  const id = useId();
  return (
    <div class="field" role="group" aria-labelledby={id}>
      <span class={shown ? "legend" : "spoken"} id={id}>{label}</span>
      <div class="chips">
        {choices.map((each) => (
          <button key={each.value} type="button" class="chip" aria-pressed={each.value === value} onClick={() => onPick(each.value)}>{each.label}</button>
        ))}
      </div>
    </div>
  );
}

/** As PickOne, but any number may be on. */
export function PickSome({ label, choices, values, onFlip, paired }: { paired?: boolean; label: string; choices: readonly Choice[]; values: readonly string[]; onFlip: (value: string) => void }): JSX.Element {
  const id = useId();
  return (
    <div class="field" role="group" aria-labelledby={id}>
      <span class="legend" id={id}>{label}</span>
      <div class={paired ? "chips paired" : "chips"}>
        {choices.map((each) => (
          <button key={each.value} type="button" class="chip" aria-pressed={values.includes(each.value)} onClick={() => onFlip(each.value)}>{each.label}</button>
        ))}
      </div>
    </div>
  );
}

export function DropChips({ label, items, onDrop }: { label: string; items: readonly Choice[]; onDrop: (value: string) => void }): JSX.Element | null {
  if (items.length === 0) return null;
  return (
    <ul class="chips" aria-label={label}>
      {items.map((each) => (
        <li key={each.value}>
          <button type="button" class="chip" onClick={() => onDrop(each.value)} aria-label={t().ui.takeAway(each.label)}>
            {each.label} <span class="drop" aria-hidden="true">×</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
