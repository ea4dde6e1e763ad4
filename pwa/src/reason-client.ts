/** The page's end of the reckoning thread: started when first needed, and again if it died. */

import type { Asking } from "./reason/advise";
import type { FromWorker, ToWorker } from "./reason-talk";
import type { Advice } from "./wire";

export interface Reckoned {
  readonly advice: Advice | null;
  readonly why: string;
}

type Wait = (answer: Reckoned) => void;

const NO_THREAD: Reckoned = { advice: null, why: "no threads" };

export function reckoning(name?: string): { readonly ask: (asking?: Asking) => Promise<Reckoned>; readonly stop: () => void } {
  let thread: Worker | null = null;
  let last = 0;
  const waiting = new Map<number, Wait>();

  function died(why: string): void {
    thread?.terminate();
    thread = null;
    for (const tell of waiting.values()) tell({ advice: null, why });
    waiting.clear();
  }

  function start(): Worker {
    const fresh = new Worker(new URL("./reason-worker.ts", import.meta.url), { type: "module", name: "reckoning" });
    fresh.addEventListener("message", ({ data }: MessageEvent<FromWorker>) => {
      waiting.get(data.id)?.(data);
      waiting.delete(data.id);
    });
    fresh.addEventListener("error", (event) => died(event.message || "not started"));
    return fresh;
  }

  return {
    stop: () => died("stopped"),
    ask(asking) {
      if (typeof Worker !== "function") return Promise.resolve(NO_THREAD);
      thread ??= start();
      const message: ToWorker = { id: (last += 1), ...(name !== undefined && { name }), ...(asking && { asking }) };
      const answer = new Promise<Reckoned>((tell) => waiting.set(message.id, tell));
      thread.postMessage(message);
      return answer;
    },
  };
}
