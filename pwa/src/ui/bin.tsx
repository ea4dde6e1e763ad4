/** A parts bin: a label in its holder, slips inside. */
import type { ComponentChildren, JSX } from "preact";
import { useId } from "preact/hooks";

export function Bin({ title, count, id, children }: { title: string; count?: ComponentChildren; id?: string; children: ComponentChildren }): JSX.Element {
  const name = useId();
  return (
    <section class="bin" id={id} aria-labelledby={name}>
      <div class="holder">
        <h2 id={name} tabIndex={-1}>{title}</h2>
        {count !== undefined && <span class="number">{count}</span>}
      </div>
      <div class="inside">{children}</div>
    </section>
  );
}
