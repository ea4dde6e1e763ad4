/** A repair without a new part: for which cause, and what it did. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { PickOne } from "../ui/chips";
import { Select, TextField } from "../ui/field";
import { Sheet } from "../ui/sheet";
import { Stub } from "../ui/tag";
import { REPAIR_RESULTS, type RepairBody, type RepairResult, type Trade } from "../wire";
import { causeChoices } from "./cause-choices";
import { titleOf } from "./words";
import { t } from "../texts";

interface RepairSheetProps {
  trade: Trade;
  /** The cause it was done for, where known already. */
  cause: string;
  likely: readonly { cause: string; title: string }[];
  systems: readonly string[];
  onSave: (repair: RepairBody) => void;
  onClose: () => void;
}

const RESULTS: Readonly<Record<RepairResult, { title: string; shape: "tick" | "query" | "cross" }>> = {
  cured: { get title() { return t().repairSheet.cured; }, shape: "tick" },
  partly: { get title() { return t().repairSheet.partlyBetter; }, shape: "query" },
  "no change": { get title() { return t().repairSheet.noChange; }, shape: "cross" },
};

export const repairWords = (result: RepairResult): string => RESULTS[result].title;

const OFFERED = 4;
const OTHER = "another cause";

function WhichCause({ props, cause, onPick }: { props: RepairSheetProps; cause: string; onPick: (cause: string) => void }): JSX.Element {
  const offered = props.likely.slice(0, OFFERED);
  const [other, setOther] = useState(offered.length === 0);
  const choices = [...offered.map((each) => ({ value: each.cause, label: each.title })), { value: OTHER, label: t().repairSheet.anotherCause }];
  const pick = (value: string): void => {
    setOther(value === OTHER);
    onPick(value === OTHER ? "" : value);
  };
  return (
    <>
      {offered.length > 0 && <PickOne label={t().repairSheet.forWhichCause} value={other ? OTHER : cause} choices={choices} onPick={pick} />}
      {other && <Select label={t().repairSheet.theCause} value={cause} choices={causeChoices(props.trade, props.systems)} onPick={onPick} />}
    </>
  );
}

export function RepairSheet(props: RepairSheetProps): JSX.Element {
  const { trade, onSave, onClose } = props;
  const [cause, setCause] = useState(props.cause);
  const [partly, setPartly] = useState(false);
  const [note, setNote] = useState("");
  const save = (result: RepairResult): void => onSave({ cause, result, ...(note.trim() && { note: note.trim() }) });
  const tap = (result: RepairResult): void => (result === "partly" ? setPartly(true) : save(result));
  return (
    <Sheet title={t().repairSheet.repairedWithoutANewPart} onClose={onClose}>
      <p>{t().repairSheet.cleanedAdjustedSealedTaughtTightened}</p>
      {props.cause ? <p class="slip-title">{titleOf(trade.causes, cause)}</p> : <WhichCause props={props} cause={cause} onPick={setCause} />}
      {cause !== "" && !partly && (
        <div class="stack">
          <h3>{t().repairSheet.whatDidItDo}</h3>
          {REPAIR_RESULTS.map((each) => <Stub key={each} {...RESULTS[each]} onTap={() => tap(each)} />)}
        </div>
      )}
      {partly && (
        <>
          <TextField label={t().repairSheet.whatStayedWrong} hint={t().repairSheet.foundAgainNextTime} value={note} onText={setNote} maxLength={400} />
          <Button kind="main" wide onTap={() => save("partly")}>{note.trim() ? t().repairSheet.save : t().repairSheet.saveWithoutWords}</Button>
        </>
      )}
    </Sheet>
  );
}
