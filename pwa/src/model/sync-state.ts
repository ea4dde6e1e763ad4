/** How the phone stands with the service, for the line at the top of the page. */

export type Link = "unknown" | "online" | "offline" | "signed out";

export interface SyncState {
  readonly link: Link;
  /** A drain or pull is running. */
  readonly busy: boolean;
  /** When everything was last sent and fetched; null before the first time. */
  readonly lastSync: string | null;
  readonly unsent: number;
  readonly parked: number;
  /** The last thing that went wrong, in plain words; empty when all is well. */
  readonly trouble: string;
}

export const FIRST_STATE: SyncState = {
  link: "unknown",
  busy: false,
  lastSync: null,
  unsent: 0,
  parked: 0,
  trouble: "",
};
