/** The shop has locked this phone out: what it never sent is still here, to be taken along or let go. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { AskTwice, Button } from "../ui/button";
import { Notice } from "../ui/notice";
import { t } from "../texts";

interface LockedOutProps {
  /** Acts never sent. */
  steps: number;
  /** Questions typed and not asked. */
  questions: number;
  onSave: () => Promise<void>;
  onLetGo: () => void;
}

export function LockedOut({ steps, questions, onSave, onLetGo }: LockedOutProps): JSX.Element {
  const [saved, setSaved] = useState(false);
  const save = async (): Promise<void> => {
    await onSave();
    setSaved(true);
  };
  return (
    <div class="place">
      <Notice kind="bad" title={t().lockedOut.title}>
        <p>{t().lockedOut.copyGone} {t().lockedOut.stillHere(steps, questions)}</p>
        <p>{t().lockedOut.signInAgain}</p>
        <Button wide shape="tray" onTap={() => void save()}>{t().lockedOut.save}</Button>
        {saved && <p class="strong" role="status">{t().lockedOut.saved}</p>}
        <AskTwice question={saved ? t().lockedOut.sure : t().lockedOut.notSavedSure} sure={t().lockedOut.letGo} onTap={onLetGo}>{t().lockedOut.letGo}</AskTwice>
      </Notice>
    </div>
  );
}
