/** The page for the customer, wired; loaded when it is first wanted, and beforehand for a time without signal. */
import { signal } from "@preact/signals";
import type { JSX } from "preact";

import { copyText } from "./app-copy-text";
import * as jobs from "./app-job";
import { Missing } from "./app-missing";
import { canShare, share } from "./app-share";
import * as app from "./app-state";
import { LinkButton } from "./ui/button";
import { Empty } from "./ui/notice";
import { HandoverScreen } from "./views/handover";
import { handoverOf, handoverText } from "./views/handover-words";
import { t } from "./texts";
import "./style/handover.css";

const names = signal(false);
const cost = signal(true);

export function HandoverPlace(): JSX.Element {
  const here = jobs.job.value;
  const shop = app.shop.value;
  if (here?.kind !== "case" || !shop) return <Missing />;
  if (here.it.state === "open") return <div class="place"><Empty title={t().handover.notYet}><LinkButton href={`#/case/${here.id}`}>{t().handover.openTheCase}</LinkButton></Empty></div>;
  const page = handoverOf(here.it, { trade: app.phone.trade.value, shop, names: names.value, cost: cost.value });
  return (
    <HandoverScreen
      page={page} names={names.value} cost={cost.value} onNames={(on) => (names.value = on)} onCost={(on) => (cost.value = on)}
      onPrint={() => print()} onShare={canShare() ? () => void share({ title: page.shop, text: handoverText(page) }, t().handover.copied) : null} onCopy={() => void copyText(handoverText(page), t().handover.copied)}
    />
  );
}
