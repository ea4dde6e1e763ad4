/** Places that are loaded after the start, so that the asking screen need not wait for them. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import { sheet } from "./app-sheet";
import type { LocalCase } from "./model/local-case";
import { Button } from "./ui/button";
import { Busy, Notice } from "./ui/notice";
import { needLater, t } from "./texts";

interface Part<T> {
  /** Null until it was loaded. */
  here: T | null;
  load(): Promise<T>;
}

function part<T>(load: () => Promise<T>): Part<T> {
  const made: Part<T> = { here: null, load: async () => (made.here ??= await load()) };
  return made;
}

/** A place and its words come together. */
async function withTexts<T>(place: Promise<T>): Promise<T> {
  const [there] = await Promise.all([place, needLater()]);
  return there;
}

const bay = part(() => withTexts(import("./app-bay")));
const office = part(() => withTexts(import("./app-office")));
const failing = part(() => withTexts(import("./app-failing")));
const handover = part(() => withTexts(import("./app-handover")));

const asked = part(() => withTexts(import("./app-asked")));

type Places = NonNullable<typeof bay.here> & NonNullable<typeof office.here> & NonNullable<typeof failing.here> & NonNullable<typeof handover.here>;

/** Fetches them while nobody waits: without signal an hour later, they are there. */
export function loadAhead(): void {
  const idle = globalThis.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 500));
  idle(() => void Promise.allSettled([bay.load(), office.load(), failing.load(), handover.load(), asked.load()]));
}

function useLater<T>(wanted: Part<T>): T | null | "failed" {
  const [loaded, setLoaded] = useState<T | null | "failed">(wanted.here);
  useEffect(() => {
    // Asked even where it has come since the drawing: the drawing did not have it yet.
    if (loaded === null) wanted.load().then((there) => setLoaded(() => there), () => setLoaded("failed"));
  }, []);
  return loaded;
}

function Later<K extends keyof Places>({ of, place }: { of: Part<Pick<Places, K>>; place: K }): JSX.Element {
  const there = useLater(of);
  if (there === "failed") return <div class="place"><Notice kind="warn" title={t().app.thisScreenNeedsSignalOnce}><Button onTap={() => location.reload()}>{t().app.tryAgain}</Button></Notice></div>;
  const Place = there?.[place] as (() => JSX.Element) | undefined;
  return Place ? <Place /> : <div class="place"><Busy>{t().app.opening}</Busy></div>;
}

export const AdvicePlace = (): JSX.Element => <Later key="advice" of={bay} place="AdvicePlace" />;
export const CasePlace = (): JSX.Element => <Later key="case" of={office} place="CasePlace" />;
export const ClosePlace = (): JSX.Element => <Later key="close" of={office} place="ClosePlace" />;
export const FailingPlace = (): JSX.Element => <Later key="failing" of={failing} place="FailingPlace" />;
export const HandoverPlace = (): JSX.Element => <Later key="handover" of={handover} place="HandoverPlace" />;
export const ShopPlace = (): JSX.Element => <Later key="shop" of={office} place="ShopPlace" />;

const desk = part(() => withTexts(import("./app-desk")));

/** The cases as a table; null where there is none yet to show. */
export function DeskTable({ files }: { files: readonly LocalCase[] }): JSX.Element {
  const there = useLater(desk);
  return there && there !== "failed" ? <there.DeskCases files={files} /> : <Busy>{t().app.opening}</Busy>;
}

const scan = part(() => withTexts(import("./app-scan")));

/** The camera for a VIN, inside the form that asks for it. */
export function scanner(acts: { onVin: (vin: string) => void; onClose: () => void }): JSX.Element {
  return <Scan {...acts} />;
}

function Scan(acts: { onVin: (vin: string) => void; onClose: () => void }): JSX.Element {
  const there = useLater(scan);
  if (there === "failed") return <Notice kind="warn" title={t().app.thisScreenNeedsSignalOnce} />;
  return there ? <there.VinScan {...acts} /> : <Busy>{t().app.opening}</Busy>;
}

export const OpenSheet = (): JSX.Element | null => (sheet.value ? <Later key="sheet" of={bay} place="OpenSheet" /> : null);

/** Nothing until it is there, and nothing where nothing is asked. */
export function AskedHere(): JSX.Element | null {
  const there = useLater(asked);
  return there && there !== "failed" ? <there.Asked /> : null;
}
