/** One line that was just done, with its way back. */
import type { JSX } from "preact";

export interface ToastProps {
  text: string;
  action?: string;
  onAction?: () => void;
  raised?: boolean;
}

export function Toast({ text, action, onAction, raised }: ToastProps): JSX.Element {
  return (
    <div class={raised ? "toast raised" : "toast"} role="status">
      <span class="strong">{text}</span>
      {action && <button type="button" onClick={onAction}>{action}</button>}
    </div>
  );
}
