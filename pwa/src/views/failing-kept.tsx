/** What is unfolded and how tables are sorted, as the address has it. */
import { createContext, type ComponentChildren, type JSX } from "preact";
import { useContext } from "preact/hooks";

import type { FailingView } from "../model/failing-view";
import type { Order } from "../model/rows";
import { Fold } from "../ui/fold";

export interface KeptHere {
  open: FailingView["open"];
  orders: FailingView["orders"];
  onOpen: (id: string, open: boolean) => void;
  onOrder: (table: string, order: Order | null) => void;
  /** The part gone to. */
  at: FailingView["at"];
  onAt: (part: FailingView["at"]) => void;
  /** Whether all parts are unfolded. */
  whole: boolean;
}

export const Kept = createContext<KeptHere>({ open: [], orders: {}, onOpen: () => undefined, onOrder: () => undefined, at: "", onAt: () => undefined, whole: true });

/** A fold that stays as the address has it; its inside is drawn when first opened. */
export function KeptFold({ id, title, children }: { id: string; title: ComponentChildren; children: ComponentChildren }): JSX.Element {
  const { open, onOpen } = useContext(Kept);
  return <Fold late title={title} open={open.includes(id)} onFold={(now) => onOpen(id, now)}>{children}</Fold>;
}
