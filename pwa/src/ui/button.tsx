/** Buttons for gloved hands; the weight says how much hangs on the tap. */
import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";

import { Shape, type ShapeName } from "./shape";
import { t } from "../texts";

interface ButtonProps {
  children: ComponentChildren;
  onTap: () => void;
  kind?: "main" | "plain" | "danger" | "quiet";
  shape?: ShapeName;
  wide?: boolean;
  disabled?: boolean;
  label?: string;
}

export function Button({ children, onTap, kind = "plain", shape, wide, disabled, label }: ButtonProps): JSX.Element {
  return (
    <button type="button" class={`button ${kind}${wide ? " wide" : ""}`} onClick={onTap} disabled={disabled} aria-label={label}>
      {shape && <Shape name={shape} />}
      {children}
    </button>
  );
}

export function LinkButton({ children, href, kind = "plain", shape }: { children: ComponentChildren; href: string; kind?: "main" | "plain" | "quiet"; shape?: ShapeName }): JSX.Element {
  return (
    <a class={`button ${kind}`} href={href}>
      {shape && <Shape name={shape} />}
      {children}
    </a>
  );
}

interface AskTwiceProps {
  children: ComponentChildren;
  question: string;
  sure: string;
  kind?: "danger" | "quiet";
  onTap: () => void;
}

/** A button for what cannot be taken back: the second tap is on another button. */
export function AskTwice({ children, question, sure, kind = "danger", onTap }: AskTwiceProps): JSX.Element {
  const [asked, setAsked] = useState(false);
  if (!asked) return <Button kind={kind} onTap={() => setAsked(true)}>{children}</Button>;
  const act = (): void => {
    setAsked(false);
    onTap();
  };
  return (
    <div class="ask-twice" role="group" aria-label={question}>
      <p class="strong" role="status">{question}</p>
      <div class="ask-twice-row">
        <Button onTap={() => setAsked(false)}>{t().ui.keep}</Button>
        <Button kind="danger" onTap={act}>{sure}</Button>
      </div>
    </div>
  );
}
