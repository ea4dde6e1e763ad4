/** The watch list of the model at hand, asked once for each model and only before the first test. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { phone } from "./app-state";
import { FailingWatch } from "./views/failing-watch";
import type { WatchList } from "./wire";
import { parseWatchList } from "./wire-office";

const lists = signal<ReadonlyMap<string, WatchList>>(new Map());

async function ask(model: string): Promise<void> {
  const answer = await phone.report(`/watch?${new URLSearchParams({ model })}`, parseWatchList);
  if (answer.kind === "ok") lists.value = new Map(lists.peek()).set(model, answer.value);
}

export function WatchHere({ make, model }: { make: string; model: string }): JSX.Element | null {
  const name = model && `${make} ${model}`.trim();
  useEffect(() => {
    if (name && !lists.peek().has(name)) void ask(name);
  }, [name]);
  const found = lists.value.get(name);
  return found ? <FailingWatch found={found} /> : null;
}
