/** A full-screen sheet that keeps the focus inside and closes with the back key. */
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";

import { Button } from "./button";
import { t } from "../texts";

export function Sheet({ title, onClose, children }: { title: string; onClose: () => void; children: ComponentChildren }): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const shown = dialog.current;
    if (shown && !shown.open) shown.showModal();
    return () => shown?.close();
  }, []);
  const cancel = (event: Event): void => {
    event.preventDefault();
    onClose();
  };
  return (
    <dialog class="sheet" ref={dialog} aria-label={title} onCancel={cancel}>
      <div class="sheet-body">
        <div class="sheet-top">
          <h2>{title}</h2>
          <Button onTap={onClose}>{t().ui.cancel}</Button>
        </div>
        {children}
      </div>
    </dialog>
  );
}
