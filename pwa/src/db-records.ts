/** What the phone lays up, besides what it got from the service as it is. */

import type { Me, Trade, TradeList } from "./wire";
import type { ReasoningBody, ReasoningPart } from "./wire-reasoning";

export interface StoredPhoto {
  readonly id: string;
  readonly type: string;
  readonly data: ArrayBuffer;
}

export interface StoredList {
  readonly list: TradeList;
  readonly etag: string | null;
  readonly version: string;
  readonly items: Trade[TradeList];
}

export interface Meta {
  readonly token: string;
  /** When this phone's token was new, as far as it knows. */
  readonly tokenMade: string;
  readonly me: Me;
  /** The last change of the service's log laid up here. */
  readonly cursor: number;
  readonly lastSync: string;
  /** New at every change of the cases, and of the lists: what has the same stamp need not be read again. */
  readonly casesStamp: string;
  readonly tradeStamp: string;
  readonly reasonStamp: string;
  /** The tags of lists and parts laid up here, by the path they came from: to ask for newer ones without reading them. */
  readonly tags: Readonly<Record<string, string | null>>;
  /** When the service was last asked for newer lists, and by which build of the app. */
  readonly listsAsked: { readonly at: string; readonly build: string };
  /** Cases of the shop that are not kept here for want of room. */
  readonly leftOut: number;
}

/** One part of what the service hands out for reckoning without signal. */
export interface StoredPart<K extends ReasoningPart = ReasoningPart> {
  readonly part: K;
  readonly etag: string | null;
  readonly body: ReasoningBody[K];
}

/** What one reader read of some cases; another reader does not take it. */
export interface Packet {
  readonly reader: string;
  readonly data: ArrayBuffer | string;
}
