/** The answer under the car: the next step first, everything else below it. */
import type { JSX } from "preact";

import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { Busy } from "../ui/notice";
import type { Advice, Case } from "../wire";
import { OtherTests, Readings } from "./advice-lists";
import { Away, type AwayProps } from "./away";
import { PastCases, RuledOutBefore } from "./before";
import { CarPast } from "./car-past";
import { Causes, fromWords, type CauseActs, type CausesProps } from "./cause";
import { Doubts, DoubtSign } from "./doubt";
import { LocalAdvice, LocalMark, type LocalAdviceProps, type LocalMarkProps } from "./local-advice";
import { NextTag, TestTag, type NextActs, type NextTagProps } from "./next-tag";
import { Heard, ReadAs, type ReadAsActs } from "./read-as";
import { TroubleNotice, type Trouble } from "./trouble";
import { percent, titleOf } from "./words";
import { t } from "../texts";

type LocalParts = "found" | "judged" | "readAs" | "lacking";

export interface AdviceProps extends NextActs, ReadAsActs, CauseActs, AwayProps, Pick<CausesProps, "caseTitle">, Omit<LocalAdviceProps, LocalParts>, Omit<NextTagProps, "advice"> {
  /** The service's answer, or the one this phone worked out. */
  advice: Advice | null;
  /** Set where the answer was worked out here. */
  mark: LocalMarkProps | null;
  /** Set where only words could be searched. */
  local: Pick<LocalAdviceProps, LocalParts> | null;
  busy: boolean;
  trouble: Trouble | null;
  complaint: string;
  /** Earlier visits of the same car, newest first. */
  past: readonly Case[];
  editHref: string;
  /** A test the person chose over the proposed one. */
  chosen: string | null;
  onChoose: (test: string | null) => void;
  onCopy: (text: string) => void;
  /** What other shops found; nothing where this shop takes no part. */
  others: JSX.Element | null;
}

function Likely({ advice }: { advice: Advice }): JSX.Element | null {
  const first = advice.causes[0];
  if (!first) return null;
  const show = (): void => document.getElementById("causes")?.scrollIntoView({ block: "start" });
  return (
    <button type="button" class="carbon" onClick={show}>
      <span class="likely"><span class="spoken">{t().advice.mostLikely} </span>{first.title}<span class="spoken">{t().advice.from(fromWords(first))}</span></span>
      <span class="number">{percent(first.probability)}</span>
    </button>
  );
}

function Steps(props: AdviceProps & { advice: Advice }): JSX.Element {
  const { advice, chosen, onChoose } = props;
  const picked = advice.tests.find((each) => each.test === chosen);
  if (!picked) return <NextTag {...props} />;
  const why = picked.why || t().advice.itTellsApart(picked.tells_apart.join(", ") || t().advice.little);
  return (
    <>
      <TestTag {...props} test={picked} why={why} />
      <Button onTap={() => onChoose(null)}>{t().advice.backToTheProposedStep}</Button>
    </>
  );
}

function Answer(props: AdviceProps & { advice: Advice }): JSX.Element {
  const { advice, trade, chosen, onChoose, onReading, onPickTest, onCopy } = props;
  const pick = (test: string): void => {
    onChoose(test);
    scrollTo({ top: 0 });
  };
  return (
    <>
      <div class="top-row">
        <Likely advice={advice} />
        <DoubtSign conflicts={advice.conflicts} />
      </div>
      <Steps {...props} />
      <Doubts advice={advice} />
      <ReadAs {...props} rows={advice.read_as} />
      <Away {...props} />
      <div class="halves">
        <Button shape="gauge" onTap={onReading}>{t().advice.aReading}</Button>
        <Button shape="pen" onTap={onPickTest}>{t().advice.anotherTest}</Button>
      </div>
      <OtherTests tests={advice.tests} chosen={chosen ?? advice.next.test} onPick={pick} />
      <RuledOutBefore rows={advice.ruled_out} />
      <PastCases advice={advice} trade={trade} onCopy={onCopy} />
      {props.others}
      <Causes {...props} />
      <Readings advice={advice} trade={trade} />
      {advice.cautions.length > 0 && <Fold title={t().advice.cautionsForThisKindOf(advice.cautions.length)}>{advice.cautions.map((each) => <p key={each}>{each}</p>)}</Fold>}
      <Heard advice={advice} trade={trade} />
    </>
  );
}

export function AdviceScreen(props: AdviceProps): JSX.Element {
  const { advice, local, mark, busy, trouble, complaint, editHref, onRetry } = props;
  return (
    <div class="place">
      {mark && <LocalMark {...mark} />}
      {busy && !mark && <Busy>{advice ? t().advice.workingItOutAgain : t().advice.askingTheMemory}</Busy>}
      <CarPast past={props.past} trade={props.trade} />
      {trouble && <TroubleNotice trouble={trouble} onRetry={onRetry} />}
      {local && <LocalAdvice {...props} {...local} />}
      {!local && advice && <Answer {...props} advice={advice} />}
      <a class="carbon" href={editHref}>
        <span>“{complaint || t().advice.noWordsGiven}”</span>
        <span class="strong">{t().advice.change}</span>
      </a>
    </div>
  );
}

interface NamePartProps {
  question: string;
  causes: readonly string[];
  trade: AdviceProps["trade"];
  onName: (cause: string | null) => void;
}

/** Which part the test showed: the causes of the classes that make the outcome likely. */
export function NamePart({ question, causes, trade, onName }: NamePartProps): JSX.Element {
  return (
    <div class="stack">
      <p class="tag-what">{question}</p>
      {causes.map((each) => <Button key={each} wide onTap={() => onName(each)}>{titleOf(trade.causes, each)}</Button>)}
      <Button wide kind="quiet" onTap={() => onName(null)}>{t().advice.somethingElse}</Button>
    </div>
  );
}
