/** The one controller: the place shown, the strip, the four places, and what was just done. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect } from "preact/hooks";

import { keepAwake } from "./app-awake";
import { keepOnLeaving, listenWhenReached, resumeDraft } from "./app-draft";
import { keepAdvising } from "./app-job";
import { followAddress, go, route, type Route } from "./app-route";
import { AdvicePlace, CasePlace, ClosePlace, FailingPlace, HandoverPlace, loadAhead, OpenSheet, ShopPlace } from "./app-later";
import { Ask, CasesPlace } from "./app-screens";
import { done, keepTime, online, phone, say, troubleOf } from "./app-state";
import { Outdated } from "./app-update";
import { Busy, Notice } from "./ui/notice";
import { Bottom, Strip } from "./ui/shell";
import { Toast } from "./ui/toast";
import { Join } from "./views/join";
import type { Trouble } from "./views/trouble";
import { t } from "./texts";

const joining = signal<{ busy: boolean; trouble: Trouble | null }>({ busy: false, trouble: null });

async function join(code: string, name: string): Promise<void> {
  joining.value = { busy: true, trouble: null };
  const answer = await phone.join(code, name);
  joining.value = { busy: false, trouble: troubleOf(answer) };
  if (answer.kind === "ok") go("#/ask", { instead: true });
}

/** What the browser threw away, said over the sign-in. */
const lost = signal<JSX.Element | null>(null);
const watchStore = async (): Promise<void> => (await import("./app-lost")).watchStore((notice) => (lost.value = notice));

const TITLES: Readonly<Record<Route["at"], string>> = {
  get ask() { return t().app.ask; }, get advice() { return t().app.nextStep; }, get case() { return t().app.case; }, get close() { return t().app.closeTheCase; }, get handover() { return t().app.forTheCustomer; }, get cases() { return t().app.cases; }, get failing() { return t().app.whatKeepsFailing; }, get shop() { return t().app.shop; }, get join() { return t().app.signIn; },
};

function backOf(here: Route): string | undefined {
  if (here.at === "advice") return here.of === "case" ? `#/case/${here.id}` : "#/ask";
  if (here.at === "close" || here.at === "handover") return `#/case/${here.id}`;
  return here.at === "case" ? "#/cases" : undefined;
}

const placeOf = (here: Route): string => (here.at === "case" || here.at === "close" || here.at === "handover" ? "cases" : here.at === "advice" || here.at === "join" ? "ask" : here.at);

function Screen({ here }: { here: Route }): JSX.Element | null {
  switch (here.at) {
    case "ask":
      return <Ask />;
    case "advice":
      return <AdvicePlace />;
    case "case":
      return <CasePlace key={here.id} />;
    case "close":
      return <ClosePlace key={here.id} />;
    case "handover":
      return <HandoverPlace key={here.id} />;
    case "cases":
      return <CasesPlace />;
    case "failing":
      return <FailingPlace />;
    case "shop":
      return <ShopPlace />;
    case "join":
      return <div class="place"><Notice kind="good" title={t().app.thisPhoneIsSignedIn}><a class="button" href="#/ask">{t().app.goOn}</a></Notice></div>;
  }
}

/** What was just done is said clear of the dock, and of the outcomes at the thumb. */
function saidAt(here: Route): "low" | "raised" | "top" {
  if (here.at === "advice") return "top";
  return here.at === "ask" || here.at === "case" || here.at === "close" || here.at === "handover" ? "raised" : "low";
}

function SignedIn(): JSX.Element {
  const here = route.value;
  const { unsent, parked } = phone.sync.value;
  const back = backOf(here);
  return (
    <>
      <Strip title={TITLES[here.at]} online={online.value} unsent={unsent} parked={parked} {...(back && { back })} />
      {done.value && <Toast {...done.value} place={saidAt(here)} />}
      <Outdated />
      <main><Screen here={here} /></main>
      <Bottom place={placeOf(here)} />
      <OpenSheet />
    </>
  );
}

export function App(): JSX.Element {
  useEffect(() => {
    followAddress(() => route.peek().at !== "advice" && route.peek().at !== "case" && say(null));
    keepTime();
    keepOnLeaving();
    listenWhenReached();
    keepAdvising();
    keepAwake();
    void phone.start().then(resumeDraft).then(loadAhead).then(watchStore);
  }, []);
  const here = route.value;
  if (!phone.ready.value) return <main class="place"><Busy>{t().app.opening}</Busy></main>;
  if (phone.me.value) return <SignedIn />;
  return <main>{lost.value}<Join key={here.at === "join" ? here.code : ""} code={here.at === "join" ? here.code : ""} busy={joining.value.busy} online={navigator.onLine} trouble={joining.value.trouble} onJoin={(code, name) => void join(code, name)} /></main>;
}
