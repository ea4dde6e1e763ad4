/** A closed case and the other shops: what they would see of it, shared or taken back with one tap. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Notice } from "../ui/notice";
import type { Sharing } from "../wire-sharing";
import { dayAndTime, vehicleWords } from "./words";
import { t } from "../texts";

interface SharingProps {
  /** The case as others would see it, or why it cannot be told. */
  onSee: () => Promise<Sharing | string>;
  /** Shares what was seen at the revision; null takes it back. */
  onShare: (revision: number | null) => Promise<Sharing | string>;
}

function Seen({ sharing }: { sharing: Sharing }): JSX.Element {
  const { case: file, taken_out: taken } = sharing;
  const rows = [
    [t().sharing.words, file.complaint],
    [t().sharing.car, vehicleWords(file.vehicle)],
    [t().sharing.cause, file.cause_title || file.cause],
    [t().sharing.done, file.correction?.text],
    [t().sharing.proof, file.verification],
    [t().sharing.steps, String(file.tests.length + file.readings.length + file.parts.length + file.repairs.length)],
  ].filter(([, said]) => said);
  return (
    <div class="slip">
      <dl class="key-value">{rows.map(([what, said]) => <><dt>{what}</dt><dd>{said}</dd></>)}</dl>
      <p class="soft">{t().sharing.never}</p>
      {taken.length > 0 && <p class="strong">{t().sharing.takenOut(taken.map((each) => `“${each.was}”`).join(", "))}</p>}
    </div>
  );
}

export function SharingBin({ onSee, onShare }: SharingProps): JSX.Element {
  const [sharing, keep] = useState<Sharing | null>(null);
  const [wrong, tell] = useState("");
  const [busy, wait] = useState(false);
  const take = async (asked: Promise<Sharing | string>): Promise<void> => {
    wait(true);
    const answer = await asked;
    wait(false);
    tell(typeof answer === "string" ? answer : "");
    if (typeof answer !== "string") keep(answer);
  };
  const shared = sharing?.shared;
  return (
    <Bin title={t().sharing.title}>
      {!sharing && <Button wide disabled={busy} onTap={() => void take(onSee())}>{t().sharing.look}</Button>}
      {sharing && <Seen sharing={sharing} />}
      {shared && <p class="strong">{t().sharing.sharedSince(dayAndTime(shared))}{sharing.changed_since && ` ${t().sharing.changedSince}`}</p>}
      {sharing && (!shared || sharing.changed_since) && <Button wide kind="main" disabled={busy} onTap={() => void take(onShare(sharing.revision))}>{t().sharing.shareAsShown}</Button>}
      {shared && <Button wide disabled={busy} onTap={() => void take(onShare(null))}>{t().sharing.takeBack}</Button>}
      {wrong && <Notice kind="bad" title={t().sharing.notDone}><p>{wrong}</p></Notice>}
    </Bin>
  );
}
