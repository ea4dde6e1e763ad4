/** What went wrong, in the person's words: the field, what is the matter, what to do. */
import type { JSX } from "preact";

import { Button } from "../ui/button";
import { Busy, Notice } from "../ui/notice";
import { t } from "../texts";

export interface Trouble {
  title: string;
  detail: string;
  remedy: string;
  field: string | null;
  errors: readonly { field: string | null; detail: string; remedy: string }[];
}

/** What stands at one field: the detail and the way out, where the trouble names it. */
export function troubleAt(trouble: Trouble | null, field: string): string | undefined {
  if (!trouble) return undefined;
  const found = [trouble, ...trouble.errors].find((each) => each.field === field || each.field?.startsWith(`${field}.`) || each.field?.startsWith(`${field}[`));
  return found && [found.detail, found.remedy].filter(Boolean).join(". ");
}

export function TroubleNotice({ trouble, onRetry }: { trouble: Trouble; onRetry?: () => void }): JSX.Element {
  return (
    <Notice kind="bad" title={trouble.title}>
      {trouble.detail && <p>{trouble.detail}</p>}
      {trouble.remedy && <p>{trouble.remedy}</p>}
      {onRetry && <Button onTap={onRetry}>{t().trouble.tryAgain}</Button>}
    </Notice>
  );
}

/** A thing being fetched: what is there, whether more is on the way, what went wrong. */
export interface Loaded<T> {
  value: T | null;
  busy: boolean;
  trouble: Trouble | null;
}

/** `tall` keeps the room of what comes, so that nothing below it jumps under a thumb. */
export function Waiting({ of, words, tall, onRetry }: { of: Loaded<unknown>; words: string; tall?: boolean; onRetry: () => void }): JSX.Element | null {
  if (of.trouble) return <TroubleNotice trouble={of.trouble} onRetry={onRetry} />;
  return of.value === null && of.busy ? <Busy tall={tall}>{words}</Busy> : null;
}
