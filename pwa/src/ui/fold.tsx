/** Something under a fold; closed until tapped. */
import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";

interface FoldProps {
  title: ComponentChildren;
  open?: boolean;
  id?: string;
  /** Drawn when first opened: for what is much, and seldom looked at. */
  late?: boolean;
  onFold?: (open: boolean) => void;
  children: ComponentChildren;
}

export function Fold({ title, open = false, id, late = false, onFold, children }: FoldProps): JSX.Element {
  const [drawn, setDrawn] = useState(open || !late);
  return (
    <details class="fold" open={open} id={id} onToggle={(event) => { setDrawn(true); onFold?.(event.currentTarget.open); }}>
      <summary>{title}</summary>
      <div class="inside stack">{drawn && children}</div>
    </details>
  );
}
