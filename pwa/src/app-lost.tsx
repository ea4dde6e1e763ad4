/** Notices when the browser has thrown away what this phone kept, and how much of it had not been sent. */
import { effect } from "@preact/signals";
import type { JSX } from "preact";

import { phone } from "./app-state";
import { heldCookie, heldIn } from "./model/held";
import { needLater } from "./texts";
import { Lost } from "./views/lost";

/** To be called once the store has been read: a store without a member, beside a note of one, was cleared. */
export function watchStore(show: (notice: JSX.Element | null) => void): void {
  const held = phone.me.peek() ? null : heldIn(document.cookie);
  if (held) void needLater().then(() => show(<Lost {...held} />));
  let was = false;
  effect(() => {
    const me = phone.me.value;
    if (me) {
      document.cookie = heldCookie({ member: me.member.name, unsent: phone.sync.value.unsent });
      show(null);
    } else if (was) document.cookie = heldCookie(null);
    was = me !== null;
  });
}
