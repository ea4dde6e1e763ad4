/** A newer version of the app: taken when tapped, never over unsaved words, and asked for where the service needs it. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";

import { draft, saveDraftNow } from "./app-draft";
import { phone } from "./app-state";
import { isBlank } from "./model/draft";
import { Button } from "./ui/button";
import { Busy, Notice } from "./ui/notice";
import { t } from "./texts";

const taking = signal(false);

/** The question being typed is put away first. */
export async function takeNewVersion(): Promise<void> {
  taking.value = true;
  if (!isBlank(draft.peek())) await saveDraftNow();
  await phone.takeNewVersion();
}

/** The service is newer than this app: said on every screen, with what waits. */
export function Outdated(): JSX.Element | null {
  if (!phone.outdated.value) return null;
  const { unsent } = phone.sync.value;
  return (
    <div class="place outdated">
      <Notice kind="warn" title={t().app.olderThanTheService}>
        <p>{unsent > 0 ? t().app.stepsWaitForTheUpdate(unsent) : t().app.workGoesOnAndWaits}</p>
        {taking.value ? <Busy>{t().app.opening}</Busy> : <Button onTap={() => void takeNewVersion()}>{t().app.updateNow}</Button>}
      </Notice>
    </div>
  );
}
