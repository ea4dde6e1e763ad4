/** Questions to put to the customer while they are on the phone, one at a time and at most three. */
import type { JSX } from "preact";

import { Bin } from "../ui/bin";
import type { CallAnswer, CallQuestion } from "../wire";
import { t } from "../texts";

export interface CallProps {
  /** How many were put already. */
  put: number;
  questions: readonly CallQuestion[];
  /** Null: not known, or none of the answers. */
  onAnswer: (question: string, answer: CallAnswer | null) => void;
}

const MOST = 3;

function Question({ row, onAnswer }: { row: CallQuestion; onAnswer: CallProps["onAnswer"] }): JSX.Element {
  return (
    <div class="slip" role="group" aria-label={row.question}>
      <p class="slip-title">{row.question}</p>
      <div class="halves even">
        {row.answers.map((each) => <button key={each.title} type="button" class="button" onClick={() => onAnswer(row.question, each)}>{each.title}</button>)}
        {row.answers.every((each) => each.symptom || each.condition) && <button type="button" class="button quiet" onClick={() => onAnswer(row.question, null)}>{t().askCall.notKnown}</button>}
      </div>
      {row.why && <p class="soft small">{row.why}</p>}
    </div>
  );
}

export function CallQuestions({ put, questions, onAnswer }: CallProps): JSX.Element | null {
  const [row] = questions;
  if (!row || put >= MOST) return null;
  return (
    <Bin title={t().askCall.askTheCustomer} count={t().askCall.of(put + 1, Math.min(MOST, put + questions.length))} id="call">
      <Question key={row.question} row={row} onAnswer={onAnswer} />
    </Bin>
  );
}
