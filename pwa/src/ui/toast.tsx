/** One line that was just done, with its way back. */
import type { JSX } from "preact";

interface ToastProps {
  text: string;
  action?: string;
  onAction?: () => void;
  /** Where it keeps clear of what is tapped there: above a dock, or on top of the screen. */
  place?: "low" | "raised" | "top";
}

export function Toast({ text, action, onAction, place = "low" }: ToastProps): JSX.Element {
  return (
    <div class={`toast ${place}`} role="status">
      <span class="strong">{text}</span>
      {action && <button type="button" onClick={onAction}>{action}</button>}
    </div>
  );
}
