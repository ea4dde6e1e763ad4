/** Who changed what and when, the newest first; for the manager, asked for by a tap. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import type { Member } from "../wire";
import type { Trail, TrailAct } from "../wire-people";
import { dayAndTime } from "./words";
import { t } from "../texts";

export interface TrailProps {
  members: readonly Member[];
  /** A case's headline; null where it is not on this phone. */
  titleOf: (caseId: string) => string | null;
  /** The page before an act, the newest for null; or why there is none. */
  onTrail: (before: number | null) => Promise<Trail | string>;
}

const inWords = (table: Readonly<Record<string, string>>, word: string): string => table[word] ?? word;

/** "Member Tess: changed (skill, rights)". */
function actWords({ kind, entity, done, fields }: TrailAct, members: readonly Member[]): string {
  const member = members.find((each) => each.id === entity);
  const what = [inWords(t().trail.kinds, kind), member?.name].filter(Boolean).join(" ");
  const named = fields.split(", ").filter(Boolean).map((field) => inWords(t().trail.fields, field));
  return `${what}: ${inWords(t().trail.done, done)}${named.length > 0 ? ` (${named.join(", ")})` : ""}`;
}

function ActSlip({ act, members, titleOf }: { act: TrailAct } & Omit<TrailProps, "onTrail">): JSX.Element {
  const title = act.kind === "case" ? titleOf(act.entity) : null;
  const from = [act.name || t().trail.atTheService, act.device_name].filter(Boolean).join(", ");
  return (
    <li class="slip">
      <p class="strong">{actWords(act, members)}</p>
      {title !== null && <p><a href={`#/case/${act.entity}`}>{title}</a></p>}
      <p class="soft">{from}, {dayAndTime(act.at)}</p>
    </li>
  );
}

export function TrailBin({ onTrail, ...shown }: TrailProps): JSX.Element {
  const [acts, keep] = useState<readonly TrailAct[]>([]);
  const [next, goOn] = useState<number | null>(null);
  const [asked, ask] = useState(false);
  const [busy, wait] = useState(false);
  const [wrong, tell] = useState("");
  const fetchPage = async (before: number | null): Promise<void> => {
    wait(true);
    const page = await onTrail(before);
    wait(false);
    tell(typeof page === "string" ? page : "");
    if (typeof page === "string") return;
    ask(true);
    keep(before === null ? page.acts : [...acts, ...page.acts]);
    goOn(page.next);
  };
  return (
    <Bin title={t().trail.title}>
      <p class="soft">{t().trail.what}</p>
      {asked && acts.length === 0 && <Empty title={t().trail.nothing} />}
      {acts.length > 0 && <ol class="stack" aria-label={t().trail.title}>{acts.map((act) => <ActSlip key={act.seq} act={act} {...shown} />)}</ol>}
      {wrong && <Notice kind="bad" title={t().trail.notFetched}><p>{wrong}</p></Notice>}
      {next !== null && <Button wide disabled={busy} onTap={() => void fetchPage(next)}>{t().trail.older}</Button>}
      <Button wide kind={asked ? "quiet" : "plain"} disabled={busy} onTap={() => void fetchPage(null)}>{asked ? t().trail.newest : t().trail.look}</Button>
    </Bin>
  );
}
