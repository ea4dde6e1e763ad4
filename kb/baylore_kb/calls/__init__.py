"""The questions that split the causes best before the car is seen."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from baylore_kb.calls.chances import Askable, askable, askables_of
from baylore_kb.calls.choose import chosen
from baylore_kb.calls.likely import likely_causes
from baylore_kb.calls.open import HEARD, says_it_hides, still_open
from baylore_kb.calls.wordings import ALSO, DO_NOT_DRIVE, SOMETHING_ELSE, UNSAFE, Said, Wording
from baylore_kb.causes import Posterior
from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.question import Question
from baylore_kb.values import CallAnswer, CallQuestion

__all__ = ["questions"]

CLEAR = 0.6
MOST_NEAR, SHOWN_WHY = 4, 3
# An answer that lifts no cause by this much speaks for none ("No difference").
LEAST_LIFT = 1e-6


def questions(question: Question, posterior: Posterior) -> tuple[CallQuestion, ...]:
    """At most three questions for the phone, the most telling first; () once the car was looked at.

    Each next one is the one expected to tell most about the cause, in bits, beyond those before it. Money
    is not weighed: an answer costs nothing but a breath. () too when the causes are clear, or
    nothing was understood that a question could start from.
    """
    said = question.complaint
    seen = said.tests or said.readings or said.parts or said.repairs
    nothing_said = not (question.heard or question.codes or question.mentioned)
    if seen or nothing_said or posterior.causes[0].probability >= CLEAR:
        return ()
    beliefs = posterior.columns.beliefs
    likely = likely_causes(question, posterior)
    open_ones = still_open(askables_of(beliefs), question)
    closest = _closest(likely, beliefs, question, open_ones)
    asks = [*open_ones, *([closest] if closest else [])]
    found = chosen(asks, likely, hides=said.comes_and_goes or says_it_hides(said.text))
    return tuple(_shown(each, likely, beliefs) for each in found)


def _closest(
    likely: Floats, beliefs: Beliefs, question: Question, worded: Iterable[Askable]
) -> Askable | None:
    """What the likely causes also show as and no worded question asks for; None where that is too little."""
    usual = beliefs.shows @ likely
    known = {heard.symptom for heard in question.heard if heard.chance >= HEARD}
    for each in worded:
        known |= each.symptoms | each.wording.among
    listed = list(beliefs.symptom_at)
    order = (listed[place] for place in np.argsort(-usual, kind="stable"))
    near = [symptom for symptom in order if symptom not in known][:MOST_NEAR]
    if len(near) < 2:
        return None
    said = tuple(Said(beliefs.trade.symptoms[id].title, id, shows=(id,)) for id in near)
    return askable(Wording("also", ALSO, said), beliefs)


def _shown(ask: Askable, likely: Floats, beliefs: Beliefs) -> CallQuestion:
    said = [CallAnswer(each.title, each.symptom, each.condition) for each in ask.wording.answers]
    if len(said) < len(ask.rows):
        said.append(CallAnswer(SOMETHING_ELSE))
    return CallQuestion(ask.wording.question, _why(ask, likely, beliefs), tuple(said))


def _why(ask: Askable, likely: Floats, beliefs: Beliefs) -> str:
    """The causes that the first answers lift most, each once, and what makes the car unsafe."""
    told: dict[str, str] = {}
    after = likely * ask.rows
    lifted = after / after.sum(axis=1, keepdims=True) - likely
    lifts, most = lifted.max(axis=1).tolist(), lifted.argmax(axis=1).tolist()
    for said, lift, cause in zip(ask.wording.answers, lifts, most, strict=False):
        if lift >= LEAST_LIFT:
            told.setdefault(beliefs.trade.causes[beliefs.causes[cause]].title, said.title)
    shown = 1 if ask.wording.kind == "danger" else SHOWN_WHY
    speaks = "; ".join(f"{answer}: {title}" for title, answer in list(told.items())[:shown])
    unsafe = [said.title for said in ask.wording.answers if said.symptom in UNSAFE]
    return f"{speaks}. {DO_NOT_DRIVE}: {', '.join(unsafe)}." if unsafe else f"{speaks}."
