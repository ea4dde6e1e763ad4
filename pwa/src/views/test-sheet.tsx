/** Writing down a test that was not the proposed one: find it, then say what it showed. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { TextField } from "../ui/field";
import { Empty } from "../ui/notice";
import { Sheet } from "../ui/sheet";
import { Stub } from "../ui/tag";
import type { Trade, TradeTest } from "../wire";
import { minutes, sentence, titleOf } from "./words";

export interface TestSheetProps {
  trade: Trade;
  /** Systems of the complaint, offered first. */
  systems: readonly string[];
  test: string | null;
  onOutcome: (test: string, outcome: string, namesPart: boolean) => void;
  onMeasure: (test: string, quantity: string) => void;
  onClose: () => void;
}

/** Tests whose words all start with what was typed; the complaint's systems first. */
export function testsFor(trade: Trade, typed: string, systems: readonly string[]): TradeTest[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = (test: TradeTest): boolean => {
    const text = ` ${test.title.toLowerCase()} ${titleOf(trade.systems, test.system).toLowerCase()} ${test.tools.join(" ").toLowerCase()}`;
    return words.every((word) => text.includes(` ${word}`));
  };
  const near = (test: TradeTest): number => (systems.includes(test.system) ? 0 : 1);
  return trade.tests.filter(fits).sort((a, b) => near(a) - near(b)).slice(0, 12);
}

function Showed({ test, onOutcome, onMeasure }: { test: TradeTest } & Pick<TestSheetProps, "onOutcome" | "onMeasure">): JSX.Element {
  const quantity = test.quantity;
  return (
    <div class="stack">
      <h3 class="tag-what">{test.title}</h3>
      <ol class="steps">{test.steps.map((each) => <li key={each}>{each}</li>)}</ol>
      <h3>What did it show?</h3>
      {quantity && <Stub title="Enter the reading" shape="gauge" onTap={() => onMeasure(test.id, quantity)} />}
      {test.outcomes.map((each) => <Stub key={each.id} title={sentence(each.means || each.id)} onTap={() => onOutcome(test.id, each.id, each.names_part)} />)}
    </div>
  );
}

export function TestSheet({ trade, systems, test, onOutcome, onMeasure, onClose }: TestSheetProps): JSX.Element {
  const [typed, setTyped] = useState("");
  const [picked, setPicked] = useState(test);
  const chosen = trade.tests.find((each) => each.id === picked);
  if (chosen) return <Sheet title="Test done" onClose={onClose}><Showed test={chosen} onOutcome={onOutcome} onMeasure={onMeasure} /></Sheet>;
  const shown = testsFor(trade, typed, systems);
  return (
    <Sheet title="Which test?" onClose={onClose}>
      {shown.length === 0 && <Empty title="No listed test has these words"><p>Write it as a note on the case instead.</p></Empty>}
      <div class="stack">{shown.map((each) => <Stub key={each.id} title={each.title} then={minutes(each.do_min)} shape="pen" onTap={() => setPicked(each.id)} />)}</div>
      <TextField label="Find a test" mode="search" caps="none" value={typed} onText={setTyped} placeholder="drop ground, relay, leak" />
    </Sheet>
  );
}
