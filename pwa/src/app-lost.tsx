/** Over the sign-in: what the browser threw away, or what the shop's lock left unsent on this phone. */
import { effect } from "@preact/signals";
import type { JSX } from "preact";

import { saveFile } from "./ui/save-file";
import { wipeKept } from "./app-kept";
import { now, phone } from "./app-state";
import { isBlank } from "./model/draft";
import { heldCookie, heldIn } from "./model/held";
import { needLater } from "./texts";
import { LockedOut } from "./views/locked-out";
import { Lost } from "./views/lost";

const saveUnsent = async (): Promise<void> => saveFile(`baylore-unsent-${now.peek().toISOString().slice(0, 10)}.json`, await phone.unsentFile());

async function letGoAll(): Promise<void> {
  await phone.letGoUnsent();
  wipeKept();
}

/** To be called once the store has been read: a store without a member, beside a note of one, was cleared. */
export function watchStore(show: (notice: JSX.Element | null) => void): void {
  const held = phone.me.peek() ? null : heldIn(document.cookie);
  let was = false;
  let wordsHere = false;
  const waiting = (): { steps: number; questions: number } => ({ steps: phone.outbox.value.length, questions: phone.drafts.value.filter((each) => !isBlank(each)).length });
  const notice = (left: { steps: number; questions: number }): JSX.Element | null => {
    if (left.steps + left.questions > 0) return <LockedOut {...left} onSave={saveUnsent} onLetGo={() => void letGoAll()} />;
    return held && !was ? <Lost {...held} /> : null;
  };
  const draw = (): void => {
    const me = phone.me.value;
    const left = waiting();
    if (me) document.cookie = heldCookie({ member: me.member.name, unsent: phone.sync.value.unsent });
    else if (was) document.cookie = heldCookie(null);
    was ||= me !== null;
    show(me ? null : wordsHere ? notice(left) : null);
    if (!me && !wordsHere) void needLater().then(() => ((wordsHere = true), phone.me.peek() ?? show(notice(left))));
  };
  effect(draw);
}
