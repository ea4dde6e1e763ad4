/** Places that are loaded after the start, so that the asking screen need not wait for them. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import { sheet } from "./app-sheet";
import { Button } from "./ui/button";
import { Busy, Notice } from "./ui/notice";

const bay = () => import("./app-bay");
const office = () => import("./app-office");

type Places = Awaited<ReturnType<typeof bay>> & Awaited<ReturnType<typeof office>>;

/** Fetches both while nobody waits: without signal an hour later, they are there. */
export function loadAhead(): void {
  const idle = globalThis.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 500));
  idle(() => void Promise.allSettled([bay(), office()]));
}

function useLater<T>(load: () => Promise<T>): T | null | "failed" {
  const [loaded, setLoaded] = useState<T | null | "failed">(null);
  useEffect(() => {
    load().then((there) => setLoaded(() => there), () => setLoaded("failed"));
  }, []);
  return loaded;
}

function Later<K extends keyof Places>({ load, place }: { load: () => Promise<Pick<Places, K>>; place: K }): JSX.Element {
  const there = useLater(load);
  if (there === "failed") return <div class="place"><Notice kind="warn" title="This screen needs signal once"><Button onTap={() => location.reload()}>Try again</Button></Notice></div>;
  const Place = there?.[place] as (() => JSX.Element) | undefined;
  return Place ? <Place /> : <div class="place"><Busy>Opening</Busy></div>;
}

export const AdvicePlace = (): JSX.Element => <Later key="advice" load={bay} place="AdvicePlace" />;
export const CasePlace = (): JSX.Element => <Later key="case" load={office} place="CasePlace" />;
export const ClosePlace = (): JSX.Element => <Later key="close" load={office} place="ClosePlace" />;
export const FailingPlace = (): JSX.Element => <Later key="failing" load={office} place="FailingPlace" />;
export const ShopPlace = (): JSX.Element => <Later key="shop" load={office} place="ShopPlace" />;

export const OpenSheet = (): JSX.Element | null => (sheet.value ? <Later key="sheet" load={bay} place="OpenSheet" /> : null);
