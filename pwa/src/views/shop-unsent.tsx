/** Each act still on this phone only; a refused one with its reason and the way out. */
import type { JSX } from "preact";

import type { Act, Entry } from "../model/outbox";
import { AskTwice, Button, LinkButton } from "../ui/button";
import { ago } from "./words";

const ACTS: Readonly<Record<Act["do"], string>> = {
  open: "Case opened",
  amend: "Case changed",
  delete: "Case deleted",
  test: "Test outcome",
  reading: "Reading",
  part: "Part tried",
  repair: "Repair without a part",
  skip: "Test left out",
  object: "Cause held to be wrong",
  "step change": "Step put right",
  "part result": "What a part did",
  undo: "Step taken back",
  photo: "Photo",
  close: "Case closed",
  reopen: "Comeback opened",
};

const STATES: Readonly<Record<Entry["state"], string>> = { queued: "waits for signal", sending: "being sent", parked: "not taken by the service" };

export interface UnsentProps {
  entries: readonly Entry[];
  now: Date;
  caseTitle: (id: string) => string;
  onRetry: (key: string) => void;
  onLetGo: (key: string) => void;
}

function Reason({ entry, onRetry, onLetGo }: { entry: Entry } & Pick<UnsentProps, "onRetry" | "onLetGo">): JSX.Element | null {
  const { problem } = entry;
  if (entry.state !== "parked" || !problem) return null;
  return (
    <>
      <p class="problem">{[problem.detail || problem.title, problem.remedy].filter(Boolean).join(". ")}</p>
      {problem.field && <p>At: {problem.field}</p>}
      <div class="row">
        <Button onTap={() => onRetry(entry.key)}>Try again</Button>
        <LinkButton href={`#/case/${entry.caseId}`}>Open the case</LinkButton>
      </div>
      <AskTwice question="Let this one go for good?" sure="Let it go" onTap={() => onLetGo(entry.key)}>Let it go</AskTwice>
    </>
  );
}

export function Unsent({ entries, now, caseTitle, onRetry, onLetGo }: UnsentProps): JSX.Element | null {
  if (entries.length === 0) return null;
  const parkedFirst = [...entries].sort((a, b) => Number(b.state === "parked") - Number(a.state === "parked") || a.seq - b.seq);
  return (
    <ul class="stack" aria-label="Not sent yet">
      {parkedFirst.map((entry) => (
        <li class="slip" key={entry.key}>
          <p class="slip-title">{ACTS[entry.act.do]}: {STATES[entry.state]}</p>
          <p>{caseTitle(entry.caseId)} <span class="soft">{ago(entry.made, now)}</span></p>
          <Reason entry={entry} onRetry={onRetry} onLetGo={onLetGo} />
        </li>
      ))}
    </ul>
  );
}
