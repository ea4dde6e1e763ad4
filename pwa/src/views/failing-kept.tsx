/** What is unfolded and how tables are sorted, as the address has it. */
import { createContext, type ComponentChildren, type JSX } from "preact";
import { useContext } from "preact/hooks";

import type { FailingView, Order } from "../model/failing-view";
import { Fold } from "../ui/fold";

export interface KeptHere {
  open: FailingView["open"];
  orders: FailingView["orders"];
  onOpen: (id: string, open: boolean) => void;
  onOrder: (table: string, order: Order | null) => void;
}

export const Kept = createContext<KeptHere>({ open: [], orders: {}, onOpen: () => undefined, onOrder: () => undefined });

/** A fold that stays as the address has it; its inside is drawn when first opened. */
export function KeptFold({ id, title, children }: { id: string; title: ComponentChildren; children: ComponentChildren }): JSX.Element {
  const { open, onOpen } = useContext(Kept);
  return <Fold late title={title} open={open.includes(id)} onFold={(now) => onOpen(id, now)}>{children}</Fold>;
}
