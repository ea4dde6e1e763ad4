/** Below the tag: the runners-up, judged readings. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import { Fold } from "../ui/fold";
import type { Advice, NextTest, Trade } from "../wire";
import { Verdict } from "./verdict";
import { minutes } from "./words";
import { t } from "../texts";

export function Readings({ advice, trade }: { advice: Advice; trade: Trade }): JSX.Element | null {
  if (advice.readings.length === 0) return null;
  return (
    <Bin title={t().adviceLists.readings} count={advice.readings.length}>
      {advice.readings.map((row, place) => <Verdict key={`${row.quantity}-${place}`} row={row} trade={trade} />)}
    </Bin>
  );
}

/** Why the member may not or cannot do it now; empty where they can. */
export const notNowWords = (test: NextTest): string => test.note || (test.allowed ? "" : t().adviceLists.needsSkill(test.skill));

function Row({ test, onPick }: { test: NextTest; onPick: (test: string) => void }): JSX.Element {
  const saves = test.saves >= 1 ? t().adviceLists.savesAbout(minutes(test.saves)) : t().adviceLists.savesLittleNow;
  return (
    <button type="button" class="slip" onClick={() => onPick(test.test)}>
      <span class="slip-top">
        <span class="slip-title">{test.title}</span>
        <span class="number">{minutes(test.minutes)}</span>
      </span>
      <span class="soft">{[saves, test.setup].filter(Boolean).join(" · ")}</span>
      {notNowWords(test) && <span class="strong">{notNowWords(test)}</span>}
    </button>
  );
}

const RUNNERS_UP = 2;

export function OtherTests({ tests, chosen, onPick }: { tests: readonly NextTest[]; chosen: string | null; onPick: (test: string) => void }): JSX.Element | null {
  const others = tests.filter((each) => each.test !== chosen).sort((a, b) => Number(b.allowed) - Number(a.allowed));
  if (others.length === 0) return null;
  const rest = others.slice(RUNNERS_UP);
  return (
    <Bin title={t().adviceLists.otherTests} count={others.length}>
      {others.slice(0, RUNNERS_UP).map((each) => <Row key={each.test} test={each} onPick={onPick} />)}
      {rest.length > 0 && <Fold title={t().adviceLists.more(rest.length)}>{rest.map((each) => <Row key={each.test} test={each} onPick={onPick} />)}</Fold>}
    </Bin>
  );
}
