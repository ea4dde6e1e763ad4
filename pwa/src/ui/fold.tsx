/** Something under a fold; closed until tapped. */
import type { ComponentChildren, JSX } from "preact";

export function Fold({ title, open = false, children, id }: { title: ComponentChildren; open?: boolean; children: ComponentChildren; id?: string }): JSX.Element {
  return (
    <details class="fold" open={open} id={id}>
      <summary>{title}</summary>
      <div class="inside stack">{children}</div>
    </details>
  );
}
