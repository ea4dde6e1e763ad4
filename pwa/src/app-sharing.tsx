/** Sharing wired: a case looked at and shared, and what other shops saw, asked only with a tap and signal. */
import type { JSX } from "preact";

import { job } from "./app-job";
import * as app from "./app-state";
import { SharingBin } from "./views/sharing";
import { OtherShops } from "./views/other-shops";
import { toQuestion } from "./model/draft";
import { ofCase } from "./phone-ask";
import type { Online } from "./phone-types";
import type { AdviceBody } from "./wire";
import { t } from "./texts";

const { phone } = app;

/** The value, or why there is none. */
function told<T>(answer: Online<T>): T | string {
  if (answer.kind === "ok") return answer.value;
  return answer.kind === "refused" ? `${answer.problem.detail}: ${answer.problem.remedy}` : t().sharing.needsSignal;
}

export function SharingHere({ id }: { id: string }): JSX.Element | null {
  if (!app.shop.value?.shares) return null;
  return <SharingBin key={id} onSee={async () => told(await phone.sharing(id))} onShare={async (revision) => told(await phone.setSharing(id, revision))} />;
}

/** The job at hand as a question. */
function asked(): AdviceBody {
  const here = job.peek();
  if (!here) return { complaint: "" };
  return here.kind === "case" ? ofCase(here.it) : toQuestion(here.it);
}

export function OtherShopsHere({ id }: { id: string }): JSX.Element | null {
  if (!app.shop.value?.shares || !app.online.value) return null;
  return <OtherShops key={id} trade={phone.trade.value} onAsk={async () => told(await phone.elsewhere(asked()))} />;
}
