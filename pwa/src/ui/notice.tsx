/** What the person must know about the state of the screen. */
import type { ComponentChildren, JSX } from "preact";

import { Shape, type ShapeName } from "./shape";

type NoticeKind = "plain" | "good" | "warn" | "bad";

const SIGN: Record<NoticeKind, ShapeName> = { plain: "ring", good: "tick", warn: "alert", bad: "cross" };

export function Notice({ kind = "plain", title, children }: { kind?: NoticeKind; title: string; children?: ComponentChildren }): JSX.Element {
  return (
    <div class={`notice ${kind}`} role={kind === "bad" ? "alert" : "status"}>
      <Shape name={SIGN[kind]} />
      <div class="stack">
        <p class="strong">{title}</p>
        {children}
      </div>
    </div>
  );
}

export function Busy({ tall, children }: { tall?: boolean | undefined; children: ComponentChildren }): JSX.Element {
  return (
    <p class={tall ? "busy tall" : "busy"} role="status">
      <svg viewBox="0 0 24 24" aria-hidden="true"><path class="turn" d="M12 2v5M12 17v5M2 12h5M17 12h5" stroke="currentColor" stroke-width="3" fill="none" /></svg>
      {children}
    </p>
  );
}

export function Empty({ title, children }: { title: string; children?: ComponentChildren }): JSX.Element {
  return (
    <div class="slip" role="status">
      <p class="slip-title">{title}</p>
      {children}
    </div>
  );
}
