/** The page for the customer, wired; loaded when it is first wanted, and beforehand for a time without signal. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";

import { copyText } from "./app-copy-text";
import * as jobs from "./app-job";
import { Missing } from "./app-missing";
import * as app from "./app-state";
import { LinkButton } from "./ui/button";
import { Empty } from "./ui/notice";
import { HandoverScreen } from "./views/handover";
import { handoverOf, handoverText, type Handover } from "./views/handover-words";
import { t } from "./texts";
import "./style/handover.css";

const names = signal(false);
const cost = signal(true);

async function share(page: Handover): Promise<void> {
  const text = handoverText(page);
  try {
    await navigator.share({ title: page.shop, text });
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    // Turned away by the person: nothing to say. Anything else leaves the text in the clipboard.
    if (error.name !== "AbortError") await copyText(text, t().handover.copied);
  }
}

export function HandoverPlace(): JSX.Element {
  const here = jobs.job.value;
  const shop = app.shop.value;
  if (here?.kind !== "case" || !shop) return <Missing />;
  if (here.it.state === "open") return <div class="place"><Empty title={t().handover.notYet}><LinkButton href={`#/case/${here.id}`}>{t().handover.openTheCase}</LinkButton></Empty></div>;
  const page = handoverOf(here.it, { trade: app.phone.trade.value, shop, names: names.value, cost: cost.value });
  return (
    <HandoverScreen
      page={page} names={names.value} cost={cost.value} onNames={(on) => (names.value = on)} onCost={(on) => (cost.value = on)}
      onPrint={() => print()} onShare={"share" in navigator ? () => void share(page) : null} onCopy={() => void copyText(handoverText(page), t().handover.copied)}
    />
  );
}
