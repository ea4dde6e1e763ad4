/** Something under a fold; closed until tapped. */
import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";

interface FoldProps {
  title: ComponentChildren;
  open?: boolean;
  id?: string;
  /** Drawn when first opened: for what is much, and seldom looked at. */
  late?: boolean;
  children: ComponentChildren;
}

export function Fold({ title, open = false, id, late = false, children }: FoldProps): JSX.Element {
  const [drawn, setDrawn] = useState(open || !late);
  return (
    <details class="fold" open={open} id={id} onToggle={() => setDrawn(true)}>
      <summary>{title}</summary>
      <div class="inside stack">{drawn && children}</div>
    </details>
  );
}
