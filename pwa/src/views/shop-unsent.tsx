/** Each act still on this phone only; a refused one with its reason and the way out. */
import type { JSX } from "preact";

import type { Act, Entry } from "../model/outbox";
import { AskTwice, Button, LinkButton } from "../ui/button";
import type { Case, Trade } from "../wire";
import { ClashAsked, clashesIn, type ClashActs } from "./clash";
import { ago } from "./words";
import { t } from "../texts";

const ACTS: Readonly<Record<Act["do"], string>> = {
  get open() { return t().shopUnsent.caseOpened; },
  get amend() { return t().shopUnsent.caseChanged; },
  get delete() { return t().shopUnsent.caseDeleted; },
  get test() { return t().shopUnsent.testOutcome; },
  get reading() { return t().shopUnsent.reading; },
  get part() { return t().shopUnsent.partTried; },
  get repair() { return t().shopUnsent.repairWithoutAPart; },
  get skip() { return t().shopUnsent.testLeftOut; },
  get object() { return t().shopUnsent.causeHeldToBeWrong; },
  get "step change"() { return t().shopUnsent.stepPutRight; },
  get "part result"() { return t().shopUnsent.whatAPartDid; },
  get undo() { return t().shopUnsent.stepTakenBack; },
  get photo() { return t().shopUnsent.photo; },
  get close() { return t().shopUnsent.caseClosed; },
  get reopen() { return t().shopUnsent.comebackOpened; },
};

const STATES: Readonly<Record<Entry["state"], string>> = { get queued() { return t().shopUnsent.waitsForSignal; }, get sending() { return t().shopUnsent.beingSent; }, get parked() { return t().shopUnsent.notTakenByTheService; } };

interface UnsentProps extends ClashActs {
  entries: readonly Entry[];
  now: Date;
  stored: readonly Case[];
  trade: Trade;
  caseTitle: (id: string) => string;
  onRetry: (key: string) => void;
  onLetGo: (key: string) => void;
}

type ReasonProps = { entry: Entry } & Pick<UnsentProps, "stored" | "trade" | "onRetry" | "onLetGo" | "onMine" | "onTheirs">;

function Reason({ entry, onRetry, onLetGo, ...asked }: ReasonProps): JSX.Element | null {
  const { problem } = entry;
  if (entry.state !== "parked" || !problem) return null;
  if (clashesIn(entry, asked.stored).length > 0) return <ClashAsked entry={entry} {...asked} />;
  return (
    <>
      <p class="problem">{[problem.detail || problem.title, problem.remedy].filter(Boolean).join(". ")}</p>
      {problem.field && <p>{t().shopUnsent.at(problem.field)}</p>}
      <div class="row">
        <Button onTap={() => onRetry(entry.key)}>{t().shopUnsent.tryAgain}</Button>
        <LinkButton href={`#/case/${entry.caseId}`}>{t().shopUnsent.openTheCase}</LinkButton>
      </div>
      <AskTwice question={t().shopUnsent.letThisOneGoFor} sure={t().shopUnsent.letItGo} onTap={() => onLetGo(entry.key)}>{t().shopUnsent.letItGo}</AskTwice>
    </>
  );
}

export function Unsent({ entries, now, caseTitle, ...acts }: UnsentProps): JSX.Element | null {
  if (entries.length === 0) return null;
  const parkedFirst = [...entries].sort((a, b) => Number(b.state === "parked") - Number(a.state === "parked") || a.seq - b.seq);
  return (
    <ul class="stack" aria-label={t().shopUnsent.notSentYet}>
      {parkedFirst.map((entry) => (
        <li class="slip" key={entry.key}>
          <p class="slip-title">{ACTS[entry.act.do]}: {STATES[entry.state]}</p>
          <p>{caseTitle(entry.caseId)} <span class="soft">{ago(entry.made, now)}</span></p>
          <Reason entry={entry} {...acts} />
        </li>
      ))}
    </ul>
  );
}
