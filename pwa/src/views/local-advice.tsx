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
import { t } from "../texts";

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
  return <div ref={box} class="local-mark"><Mark {...props} /></div>;
}

function Mark({ copyAge, fresher, backed, asking, onFresher }: LocalMarkProps): JSX.Element {
  if (fresher)
    return (
      <Notice kind="good" title={t().localAdvice.anotherStep}>
        <Button onTap={onFresher}>{t().localAdvice.showTheServices}</Button>
      </Notice>
    );
  if (backed) return <Notice kind="good" title={t().localAdvice.sameStep} />;
  return (
    <Notice kind="warn" title={t().localAdvice.workedOutHere(ageWords(copyAge))}>
      <p>{asking ? t().localAdvice.askingTheService : t().localAdvice.keptAndSent}</p>
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

const ageWords = (age: number | null): string => (age === null ? t().localAdvice.ageNotKnown : age < 1 ? t().localAdvice.underAMinuteOld : t().localAdvice.old(minutes(age)));

/** Why no chances are worked out, by its short word; what a browser said of its own stays as it came. */
const lackingWords = (why: string): string => (t().lacking as Readonly<Record<string, string>>)[why || "needs signal"] ?? why;

interface Lead {
  test: string;
  title: string;
  cases: number;
}

/** Tests that settled the cases found, that of the nearest case first. */
function leadsOf(found: readonly Found[], trade: Trade): Lead[] {
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
    { name: t().before.sameWords, words: why.words.join(", ") },
    { name: t().before.codes, words: why.codes.join(", ") },
    { name: t().before.signs, words: why.symptoms.map((each) => titleOf(trade.symptoms, each)).join(", ") },
    { name: t().before.car, words: why.vehicle },
  ].filter((each) => each.words !== "");
  return (
    <li>
      <a class="slip" href={`#/case/${file.id}`}>
        <span class="slip-title">{file.cause_title || titleOf(trade.causes, file.cause) || headline(file)}</span>
        {file.correction?.text && <span>{t().before.done(file.correction.text)}</span>}
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
      <Notice kind="warn" title={t().localAdvice.fromThisCopy(ageWords(copyAge))}>
        <p>{t().localAdvice.byWordsOnly(lackingWords(props.lacking))}</p>
        <Button onTap={onRetry}>{t().localAdvice.askAgain}</Button>
      </Notice>
      <Tag word={t().localAdvice.noSignal} number={t().localAdvice.thisPhone} label={t().localAdvice.whatThisPhoneRemembers}>
        <h2 class="tag-what">{leads.length > 0 ? t().localAdvice.whatSettledIt : t().localAdvice.testAsYouKnow}</h2>
        <div class="stubs plain">
          {leads.map((each) => <Stub key={each.test} title={each.title} then={t().localAdvice.settled(each.cases)} onTap={() => onTest(each.test)} />)}
          <Stub title={t().localAdvice.anotherTest} shape="pen" onTap={onPickTest} />
          <Stub title={t().localAdvice.aReading} shape="gauge" onTap={onReading} />
        </div>
      </Tag>
      <ReadAs {...props} rows={props.readAs.map((each) => ({ ...each, kind: "slip" }))} />
      <Bin title={t().localAdvice.whatItWasBefore} count={found.length}>
        {found.length === 0 && <Empty title={t().localAdvice.nothingLikeThis}><p>{t().localAdvice.fewerWords}</p></Empty>}
        <ol class="stack">{found.map((row) => <FoundCase key={row.case.id} row={row} trade={trade} />)}</ol>
      </Bin>
      {judged.length > 0 && <Bin title={t().localAdvice.readings} count={judged.length}>{judged.map((row, place) => <Verdict key={place} row={row} trade={trade} />)}</Bin>}
    </>
  );
}
