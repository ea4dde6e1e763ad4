/** A number pad big enough for a glove; it only edits the text it is given. */
import type { ComponentChildren, JSX } from "preact";

import { pressed, type PadKey } from "../model/reading";
import { decimalMark } from "../model/typed-number";
import { t } from "../texts";

const KEYS: readonly PadKey[] = ["7", "8", "9", "back", "4", "5", "6", "-", "1", "2", "3", "clear", "0", "."];
const FACE: Partial<Record<PadKey, string>> = { back: "⌫", "-": "+/−", clear: "C" };
const SPOKEN: Partial<Record<PadKey, string>> = { get back() { return t().ui.takeBackOneDigit; }, get "-"() { return t().ui.changeSign; }, get clear() { return t().ui.clear; }, get "."() { return t().ui.point; } };

/** Two places stay free in the last row for what ends the entry. */
export function Pad({ text, onText, children }: { text: string; onText: (text: string) => void; children: ComponentChildren }): JSX.Element {
  return (
    <div class="pad" role="group" aria-label={t().ui.numberPad}>
      {KEYS.map((key) => (
        <button key={key} type="button" class={FACE[key] ? "key word" : "key"} aria-label={SPOKEN[key]} onClick={() => onText(pressed(text, key))}>
          {key === "." ? decimalMark() : (FACE[key] ?? key)}
        </button>
      ))}
      {children}
    </div>
  );
}
