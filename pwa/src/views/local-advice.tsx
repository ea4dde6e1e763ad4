/** What this phone remembers by itself when there is no signal; never shown as the service's answer. */
import type { JSX } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

import type { Found, LocalReadAs } from "../model/local-search";
import { Bin } from "../ui/bin";
import { Button } from "../ui/button";
import { Empty, Notice } from "../ui/notice";
import { Stub, Tag } from "../ui/tag";
import type { Judged, Trade } from "../wire";
import { ReadAs, type ReadAsActs } from "./read-as";
import { Verdict } from "./verdict";
import { headline, minutes, titleOf, vehicleWords } from "./words";

export interface LocalMarkProps {
  copyAge: number | null;
  /** The service's answer has come and proposes another step. */
  fresher: boolean;
  /** There is signal, and the service is being asked. */
  asking: boolean;
  /** The service has come to the same step. */
  backed: boolean;
  onFresher: () => void;
}

/**
 * Over an answer that the phone worked out by itself. It stays where it is while the service is asked, so that
 * nothing moves under a thumb.
 */
export function LocalMark(props: LocalMarkProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const tallest = useRef(0);
  useLayoutEffect(() => {
    tallest.current = Math.max(tallest.current, box.current?.getBoundingClientRect().height ?? 0);
    if (box.current) box.current.style.minHeight = `${tallest.current}px`;
  });
  return <div ref={box}><Mark {...props} /></div>;
}

function Mark({ copyAge, fresher, backed, asking, onFresher }: LocalMarkProps): JSX.Element {
  if (fresher)
    return (
      <Notice kind="good" title="Signal is back, and the service proposes another step">
        <Button onTap={onFresher}>Show the service's answer</Button>
      </Notice>
    );
  if (backed) return <Notice kind="good" title="Signal is back: the service comes to the same step" />;
  return (
    <Notice kind="warn" title={`No signal: worked out from this phone's copy, ${ageWords(copyAge)}`}>
      <p>{asking ? "Asking the service…" : "Every step is kept here and sent with signal."}</p>
    </Notice>
  );
}

export interface LocalAdviceProps extends ReadAsActs {
  lacking: string;
  found: readonly Found[];
  readAs: readonly LocalReadAs[];
  judged: readonly Judged[];
  trade: Trade;
  copyAge: number | null;
  onPickTest: () => void;
  onTest: (test: string) => void;
  onReading: () => void;
  onRetry: () => void;
}

const ageWords = (age: number | null): string => (age === null ? "age not known" : age < 1 ? "less than a minute old" : `${minutes(age)} old`);

interface Lead {
  test: string;
  title: string;
  cases: number;
}

/** Tests that settled the cases found, that of the nearest case first. */
export function leadsOf(found: readonly Found[], trade: Trade): Lead[] {
  const seen = new Map<string, Lead>();
  for (const { case: file } of found) {
    const cause = trade.causes.find((each) => each.id === file.cause);
    const test = file.confirmed_by ?? cause?.confirm_test;
    if (!test) continue;
    const before = seen.get(test)?.cases ?? 0;
    seen.set(test, { test, title: titleOf(trade.tests, test), cases: before + 1 });
  }
  return [...seen.values()].slice(0, 3);
}

function FoundCase({ row, trade }: { row: Found; trade: Trade }): JSX.Element {
  const { case: file, why } = row;
  const reasons = [
    { name: "Same words", words: why.words.join(", ") },
    { name: "Codes", words: why.codes.join(", ") },
    { name: "Signs", words: why.symptoms.map((each) => titleOf(trade.symptoms, each)).join(", ") },
    { name: "Car", words: why.vehicle },
  ].filter((each) => each.words !== "");
  return (
    <li>
      <a class="slip" href={`#/case/${file.id}`}>
        <span class="slip-title">{file.cause_title || titleOf(trade.causes, file.cause) || headline(file)}</span>
        {file.correction?.text && <span>Done: {file.correction.text}</span>}
        <span class="soft">{vehicleWords(file.vehicle)} · {headline(file)}</span>
        <span class="reasons">{reasons.map((each) => <span class="reason" key={each.name}><b>{each.name}:</b> {each.words}</span>)}</span>
      </a>
    </li>
  );
}

export function LocalAdvice(props: LocalAdviceProps): JSX.Element {
  const { found, judged, trade, copyAge, onTest, onPickTest, onReading, onRetry } = props;
  const leads = leadsOf(found, trade);
  return (
    <>
      <Notice kind="warn" title={`No signal: from this phone's copy, ${ageWords(copyAge)}`}>
        <p>Past cases by words, codes and car. No chances are worked out: {props.lacking || "that needs signal once"}.</p>
        <Button onTap={onRetry}>Ask again</Button>
      </Notice>
      <Tag word="No signal" number="This phone" label="What this phone remembers">
        <h2 class="tag-what">{leads.length > 0 ? "What settled it before" : "Test as you know, write it down here"}</h2>
        <div class="stubs plain">
          {leads.map((each) => <Stub key={each.test} title={each.title} then={`Settled ${each.cases === 1 ? "one" : each.cases} of the cases below`} onTap={() => onTest(each.test)} />)}
          <Stub title="Another test" shape="pen" onTap={onPickTest} />
          <Stub title="A reading" shape="gauge" onTap={onReading} />
        </div>
      </Tag>
      <ReadAs {...props} rows={props.readAs.map((each) => ({ ...each, kind: "slip" }))} />
      <Bin title="What it was before" count={found.length}>
        {found.length === 0 && <Empty title="Nothing like this in this phone's copy"><p>Try fewer words, or ask again with signal.</p></Empty>}
        <ol class="stack">{found.map((row) => <FoundCase key={row.case.id} row={row} trade={trade} />)}</ol>
      </Bin>
      {judged.length > 0 && <Bin title="Readings" count={judged.length}>{judged.map((row, place) => <Verdict key={place} row={row} trade={trade} />)}</Bin>}
    </>
  );
}
