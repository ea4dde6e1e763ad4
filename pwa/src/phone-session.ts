/** Who is signed in on this phone: joining, leaving, and what another tab did meanwhile. */

import { FIRST_STATE } from "./model/sync-state";
import type { Db } from "./db";
import type { Owner } from "./model/outbox";
import type { Net } from "./net";
import { fetched } from "./phone-online";
import { ownerOf } from "./phone-store";
import type { Shown } from "./phone-store";
import type { Online } from "./phone-types";
import * as wire from "./wire";

interface SessionParts {
  readonly db: () => Db;
  /** The network is made with this session's token, so it comes after it. */
  readonly net: () => Net;
  readonly shown: Shown;
  readonly changed: () => Promise<void>;
  readonly send: () => void;
}

const MONTH_MS = 30 * 86_400_000;

export class Session {
  private held: string | null = null;

  constructor(private readonly parts: SessionParts) {}

  token(): string | null {
    return this.held;
  }

  owner(): Owner | null {
    return this.held === null ? null : ownerOf(this.parts.shown.me.peek());
  }

  /** Takes the token from the store: at the start, and when another tab changed something. */
  async recall(): Promise<void> {
    this.held = await this.parts.db().meta("token");
  }

  async join(code: string, name: string): Promise<Online<wire.Me>> {
    const { db, net, changed, send } = this.parts;
    const answer = await fetched(net(), { method: "POST", path: "/devices", body: { code, name } }, wire.parseJoined);
    if (answer.kind !== "ok") return answer;
    const { token, ...who } = answer.value;
    const me: wire.Me = { ...who, revision: 0, service: null };
    await db().signIn(token, me);
    this.held = token;
    await changed();
    send();
    return { kind: "ok", value: me };
  }

  /** Not over unsent work, unless told to let it go. */
  async signOut(discardUnsent: boolean): Promise<boolean> {
    const { db, net, shown } = this.parts;
    if (!discardUnsent && (await db().unsent()) > 0) return false;
    const device = shown.me.peek()?.device.id;
    if (device) await net().call({ method: "DELETE", path: `/devices/${encodeURIComponent(device)}` });
    this.held = null;
    await db().wipe();
    await this.parts.changed();
    shown.state.value = { ...FIRST_STATE, link: "signed out" };
    return true;
  }

  /** A token grows no older than a month. The old one holds until the new one is used: a lost answer costs nothing. */
  async renew(now: Date): Promise<void> {
    const { db, net, changed } = this.parts;
    const made = await db().meta("tokenMade");
    if (made && now.getTime() - Date.parse(made) < MONTH_MS) return;
    const answer = made ? await fetched(net(), { method: "POST", path: "/me/token" }, wire.parseToken) : null;
    if (answer && answer.kind !== "ok") return;
    if (answer) await db().setMeta("token", (this.held = answer.value.token));
    await db().setMeta("tokenMade", now.toISOString());
    if (answer) await changed();
  }

  /** After a lock-out; a signed-in member's work is let go one by one. */
  async letGoUnsent(): Promise<void> {
    if (this.held !== null) return;
    await this.parts.db().forgetUnsent();
    await this.parts.changed();
  }

  /** The service does not know this device any more: only what was never sent stays. */
  async lost(): Promise<void> {
    this.held = null;
    await this.parts.db().forgetShop();
    await this.parts.changed();
    // The thread holds the cases it reckons with.
    if (typeof Worker === "function") (await import("./phone-local")).endThreads();
  }
}
