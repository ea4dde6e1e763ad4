/** The next step as the job tag: a test, a part to fit, a question, or word to refer it out. */
import type { JSX } from "preact";

import { Button } from "../ui/button";
import { Fold } from "../ui/fold";
import { Cautions, Facts, Stub, Tag, type Fact } from "../ui/tag";
import type { Advice, NextTest, OutcomeChance, PartsReport, Trade, TradeTest } from "../wire";
import { notNowWords } from "./advice-lists";
import type { CauseActs } from "./cause";
import { PartMemory } from "./part-memory";
import { minutes, money, named, percent, sentence, titleOf } from "./words";
import { t } from "../texts";

export interface NextActs {
  onOutcome: (test: string, outcome: string, namesPart: boolean) => void;
  onMeasure: (test: string, quantity: string) => void;
  onAnswer: (symptom: string | null) => void;
  onFit: (component: string) => void;
  onSkip: (test: string) => void;
  onClose: () => void;
}

export interface NextTagProps extends NextActs, Pick<CauseActs, "onWrong" | "onRepair"> {
  advice: Advice;
  trade: Trade;
  parts: PartsReport | null;
  away: boolean;
  /** Minutes since this step was first shown, null before the first. */
  running: number | null;
}

interface TestTagProps extends NextTagProps {
  test: NextTest;
  why: string;
}

/** A tick where the test found all well, a ring for what it may have found. */
const shapeOf = (outcome: OutcomeChance): "tick" | "ring" => (/^(ok|good|agree|tight|clean|holds|even)$/.test(outcome.outcome) ? "tick" : "ring");

const HALF_HOLDS = 26;

const MANY = 4;
/** A longer title is set smaller, so that the cautions under it stay in sight. */
const LONG_TITLE = 34;

/** Short or many results stand two in a row, an odd last one across; a few long ones take whole rows. */
function OutcomeStubs({ test, onOutcome }: TestTagProps): JSX.Element {
  const short = test.outcomes.length >= MANY || test.outcomes.every((each) => each.means.length <= HALF_HOLDS);
  const odd = test.outcomes.length % 2 === 1;
  const stubs = test.outcomes.map((each, place) => (
    <Stub
      key={each.outcome} title={sentence(each.means || each.outcome)} shape={shapeOf(each)} half={short ? (odd && place === test.outcomes.length - 1 ? "half last" : "half") : undefined}
      onTap={() => onOutcome(test.test, each.outcome, each.names_part)}
    />
  ));
  return <>{stubs}</>;
}

/** What one result would leave as the first causes. */
function Meaning({ row, trade }: { row: OutcomeChance; trade: Trade }): JSX.Element {
  const only = row.then_cause ? [{ cause: row.then_cause, title: "", probability: null }] : [];
  const causes = row.then.length > 0 ? row.then : only;
  return (
    <li class="meaning">
      <span><b>{sentence(row.means || row.outcome)}</b> <span class="soft">{t().nextTag.likely(percent(row.probability))}</span></span>
      {causes.length === 0 && <span>{t().nextTag.saysNothingNew}</span>}
      {causes.map((each) => (
        <span class="then" key={each.cause}><b class="number">{each.probability !== null && percent(each.probability)}</b><span>{each.title || titleOf(trade.causes, each.cause)}</span></span>
      ))}
    </li>
  );
}

/** Cautions in full, the steps, and what each result would point to. */
function How({ test, known, trade, why }: { test: NextTest; known: TradeTest | undefined; trade: Trade; why: string }): JSX.Element {
  const cautions = test.cautions.map((title) => ({ title, text: trade.cautions.find((each) => each.title === title)?.text }));
  return (
    <Fold title={t().nextTag.howStepByStep}>
      {cautions.map((each) => <p key={each.title}><b>{each.title}.</b> {each.text}</p>)}
      {known && <ol class="steps">{known.steps.map((each) => <li key={each}>{each}</li>)}</ol>}
      {why && <p class="lines"><b>{t().nextTag.why}</b> {why}</p>}
      <ul class="stack" aria-label={t().nextTag.whatEachResultWouldMean}>
        {test.outcomes.map((each) => <Meaning key={each.outcome} row={each} trade={trade} />)}
      </ul>
    </Fold>
  );
}

function factsOf(test: NextTest, known: TradeTest | undefined, running: number | null): Fact[] {
  const facts: Fact[] = test.setup ? [{ name: t().nextTag.car, value: sentence(test.setup) }] : [];
  if (known && known.tools.length > 0) facts.push({ name: t().nextTag.tools, value: sentence(known.tools.join(", ")) });
  if (running !== null && running >= 1) facts.push({ name: t().nextTag.onItFor, value: minutes(running) });
  return facts;
}

export function TestTag(props: TestTagProps): JSX.Element {
  const { test, why, trade, away, running, onMeasure, onSkip } = props;
  const known = trade.tests.find((each) => each.id === test.test);
  const quantity = known?.quantity ?? null;
  return (
    <Tag word={t().nextTag.test} number={minutes(test.minutes)} full label={t().nextTag.nextStep(test.title)}>
      <div class="stack">
        <h2 class={test.title.length > LONG_TITLE ? "tag-what long" : "tag-what"}>{test.title}</h2>
        <Cautions titles={test.cautions} />
        {why && <p class="tag-why short">{why.split("\n", 1)}</p>}
        {notNowWords(test) && <p class="problem">{notNowWords(test)}</p>}
      </div>
      <div class="stack">
        <Facts facts={factsOf(test, known, running)} />
        <div class="fold-row">
          <How test={test} known={known} trade={trade} why={why} />
          <Button onTap={() => onSkip(test.test)} label={t().nextTag.skipNotDoingThisTest(test.title)}>{t().nextTag.skip}</Button>
        </div>
      </div>
      <div class="stubs">
        <h3>{away ? t().nextTag.whatDidItShowFault : t().nextTag.whatDidItShow}</h3>
        {quantity && <Button kind="main" wide shape="gauge" onTap={() => onMeasure(test.test, quantity)}>{t().nextTag.enterTheReading}</Button>}
        <OutcomeStubs {...props} />
      </div>
    </Tag>
  );
}

function ReplaceTag({ advice, trade, parts, onFit, onClose, onWrong, onRepair }: NextTagProps): JSX.Element {
  const { next } = advice;
  const cause = trade.causes.find((each) => each.id === next.cause);
  const component = next.component ?? cause?.component ?? "";
  const facts: Fact[] = [];
  if (next.part_source) facts.push({ name: t().nextTag.partFrom, value: named(next.part_source) });
  if (next.expected_cost !== null) facts.push({ name: t().nextTag.allIn, value: money(next.expected_cost, next.currency ?? "") });
  if (cause) facts.push({ name: t().nextTag.labour, value: t().nextTag.toH(cause.labour_low_h, cause.labour_high_h) });
  return (
    <Tag word={t().nextTag.stopTesting} number={t().nextTag.repair} full label={t().nextTag.nextStepRepairIt}>
      <div class="stack">
        <h2 class="tag-what">{cause?.fix || t().nextTag.replace(titleOf(trade.components, component))}</h2>
        <p class="tag-why">{next.why}</p>
      </div>
      <div class="stack">
        {facts.length > 0 && <Facts facts={facts} />}
        <PartMemory report={parts} component={component} />
      </div>
      <div class="stubs">
        <Button kind="main" wide shape="part" onTap={() => onFit(component)}>{t().nextTag.writeDownThePart}</Button>
        {next.cause && <Stub title={t().nextTag.noNewPartNeeded} half="half" shape="pen" onTap={() => onRepair(next.cause ?? "")} />}
        {next.cause && <Stub title={t().nextTag.wrongBecause} half="half" shape="cross" onTap={() => onWrong(next.cause ?? "")} />}
        <Stub title={t().nextTag.itIsFixedCloseThe} shape="tick" onTap={onClose} />
      </div>
    </Tag>
  );
}

function AskTag({ advice, onAnswer }: NextTagProps): JSX.Element {
  const { next } = advice;
  return (
    <Tag word={t().nextTag.question} full label={t().nextTag.nextStepAQuestion}>
      <div class="stack">
        <h2 class="tag-what">{next.question || next.why}</h2>
        {next.question && <p class="tag-why">{next.why}</p>}
      </div>
      <div />
      <div class="stubs">
        {next.options.map((each) => <Stub key={each.symptom} title={each.title} onTap={() => onAnswer(each.symptom)} />)}
        <Stub title={t().nextTag.noneOfTheseOrNot} shape="query" onTap={() => onAnswer(null)} />
      </div>
    </Tag>
  );
}

function ReferTag({ advice, onClose }: NextTagProps): JSX.Element {
  const first = advice.causes[0];
  return (
    <Tag word={t().nextTag.handOver} full label={t().nextTag.nextStepReferIt}>
      <div class="stack">
        <h2 class="tag-what">{t().nextTag.sendItToSomebodySet}</h2>
        <p class="tag-why">{advice.next.why}</p>
      </div>
      <div>{first && <p>{t().nextTag.bestGuessSoFarWrite(first.title, percent(first.probability))}</p>}</div>
      <div class="stubs">
        <Button kind="main" wide onTap={onClose}>{t().nextTag.closeAsReferred}</Button>
        <p>{t().nextTag.orGoOnWithOne}</p>
      </div>
    </Tag>
  );
}

export function NextTag(props: NextTagProps): JSX.Element {
  const { advice } = props;
  if (advice.next.do === "replace") return <ReplaceTag {...props} />;
  if (advice.next.do === "ask") return <AskTag {...props} />;
  const test = advice.tests.find((each) => each.test === advice.next.test);
  if (advice.next.do === "test" && test) return <TestTag {...props} test={test} why={advice.next.why} />;
  return <ReferTag {...props} />;
}
