/** Writing down a test that was not the proposed one: find it, then say what it showed. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Empty } from "../ui/notice";
import { Sheet } from "../ui/sheet";
import { Stub } from "../ui/tag";
import type { Trade, TradeTest } from "../wire";
import { minutes, sentence, titleOf } from "./words";
import { t } from "../texts";

interface TestSheetProps {
  trade: Trade;
  /** Systems of the complaint, offered first. */
  systems: readonly string[];
  /** The complaint, whose words bring a test nearer to the top. */
  complaint: string;
  test: string | null;
  onOutcome: (test: string, outcome: string, namesPart: boolean) => void;
  onMeasure: (test: string, quantity: string) => void;
  /** A test no list has. */
  onOwn: () => void;
  onClose: () => void;
}

const SHOWN = 10;

const wordsOf = (text: string): string[] => text.toLowerCase().split(/\s+/).filter(Boolean);

/** Tests whose words all start with what was typed; the complaint's systems and words first. */
export function testsFor(trade: Trade, typed: string, { systems, complaint }: Pick<TestSheetProps, "systems" | "complaint">): TradeTest[] {
  const textOf = (test: TradeTest): string => ` ${test.title} ${titleOf(trade.systems, test.system)} ${test.tools.join(" ")}`.toLowerCase();
  const wanted = wordsOf(typed);
  const said = wordsOf(complaint).filter((word) => word.length > 3);
  const place = (test: TradeTest): number => systems.indexOf(test.system);
  const near = (test: TradeTest): number => (place(test) < 0 ? 0 : 2 - place(test) / systems.length) + said.filter((word) => textOf(test).includes(` ${word}`)).length;
  return trade.tests
    .filter((test) => !test.retired && wanted.every((word) => textOf(test).includes(` ${word}`)))
    .map((test) => ({ test, near: near(test) }))
    .sort((a, b) => b.near - a.near)
    .slice(0, SHOWN)
    .map(({ test }) => test);
}

function Showed({ test, onOutcome, onMeasure }: { test: TradeTest } & Pick<TestSheetProps, "onOutcome" | "onMeasure">): JSX.Element {
  const quantity = test.quantity;
  return (
    <div class="stack">
      <h3 class="tag-what">{test.title}</h3>
      <ol class="steps">{test.steps.map((each) => <li key={each}>{each}</li>)}</ol>
      <h3>{t().testSheet.whatDidItShow}</h3>
      {quantity && <Stub title={t().testSheet.enterTheReading} shape="gauge" onTap={() => onMeasure(test.id, quantity)} />}
      {test.outcomes.map((each) => <Stub key={each.id} title={sentence(each.means || each.id)} onTap={() => onOutcome(test.id, each.id, each.names_part)} />)}
    </div>
  );
}

export function TestSheet({ trade, systems, complaint, test, onOutcome, onMeasure, onOwn, onClose }: TestSheetProps): JSX.Element {
  const [typed, setTyped] = useState("");
  const [picked, setPicked] = useState(test);
  const chosen = trade.tests.find((each) => each.id === picked);
  if (chosen) return <Sheet title={t().testSheet.testDone} onClose={onClose}><Showed test={chosen} onOutcome={onOutcome} onMeasure={onMeasure} /></Sheet>;
  const shown = testsFor(trade, typed, { systems, complaint });
  return (
    <Sheet title={t().testSheet.whichTest} onClose={onClose}>
      {shown.length === 0 && <Empty title={t().testSheet.noListedTestHasThese}><p>{t().testSheet.addItBelowAsOne}</p></Empty>}
      <div class="stack">{shown.map((each) => <Stub key={each.id} title={each.title} then={each.own ? t().testSheet.ourOwn(minutes(each.do_min)) : minutes(each.do_min)} shape="pen" onTap={() => setPicked(each.id)} />)}</div>
      <div class="pad-dock">
        <Button wide shape="pen" onTap={onOwn}>{t().testSheet.somethingOfOurOwn}</Button>
        <TextField label={t().testSheet.findATest} mode="search" caps="none" value={typed} onText={setTyped} placeholder={t().testSheet.dropGroundRelayLeak} />
      </div>
    </Sheet>
  );
}
