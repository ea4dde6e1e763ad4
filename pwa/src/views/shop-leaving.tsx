/** A member's name taken off everything: looked at first, done by a second tap, never undone. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { AskTwice, Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import { Notice } from "../ui/notice";
import type { Member } from "../wire";
import type { LeaveBody, Left } from "../wire-people";
import { figure } from "./words";
import { t } from "../texts";

export interface LeavingProps {
  member: Member;
  /** What would be, or was, done; or why not. */
  onLeave: (id: string, body: LeaveBody) => Promise<Left | string>;
}

const TEXTS = [
  { value: "yes", get label() { return t().people.inTextsToo; } },
  { value: "no", get label() { return t().people.textsStay; } },
];

function Found({ left }: { left: Left }): JSX.Element {
  // A case's title is often its complaint: said once.
  const texts = [...new Map(left.found.map((each) => [`${each.case} ${each.text}`, each])).entries()];
  return (
    <div class="stack" role="status">
      <p class="strong">{t().people.casesCarryIt(figure(left.cases))}</p>
      {texts.length > 0 && <p class="soft">{t().people.whereItIsWritten}</p>}
      <ul class="stack">
        {texts.map(([key, each]) => <li class="slip" key={key}><a href={`#/case/${each.case}`}>{each.text}</a></li>)}
      </ul>
    </div>
  );
}

function Asked({ member, onLeave }: LeavingProps): JSX.Element {
  const [also, setAlso] = useState("");
  const [texts, setTexts] = useState("yes");
  const [left, keep] = useState<Left | null>(null);
  const [wrong, tell] = useState("");
  const act = async (preview: boolean): Promise<void> => {
    const names = also.split(",").map((each) => each.trim()).filter(Boolean);
    const answer = await onLeave(member.id, { also: names, in_texts: texts === "yes", preview });
    tell(typeof answer === "string" ? answer : "");
    keep(typeof answer === "string" || !preview ? null : answer);
  };
  // What was looked at is what is done: another choice is looked at anew.
  const change = (set: (value: string) => void) => (value: string): void => {
    set(value);
    keep(null);
  };
  return (
    <div class="stack">
      <p>{t().people.whatItDoes}</p>
      <PickOne label={t().people.whatWasWritten} value={texts} choices={TEXTS} onPick={change(setTexts)} />
      {texts === "yes" && <TextField label={t().people.otherNames} hint={t().people.byComma} value={also} caps="words" onText={change(setAlso)} />}
      {!left && <Button wide onTap={() => void act(true)}>{t().people.lookFirst}</Button>}
      {left && <Found left={left} />}
      {left && <AskTwice question={t().people.sure(member.name)} sure={t().people.takeItOff} onTap={() => void act(false)}>{t().people.takeOff}</AskTwice>}
      {wrong && <Notice kind="bad" title={t().people.notDone}><p>{wrong}</p></Notice>}
    </div>
  );
}

export function Leaving(props: LeavingProps): JSX.Element {
  return <Fold late title={t().people.takeOff}><Asked {...props} /></Fold>;
}
