"""When a question to the customer splits the causes better than a test."""

from __future__ import annotations

from baylore_kb.causes import Posterior
from baylore_kb.question import Question
from baylore_kb.trade.model import Trade
from baylore_kb.values import AskOption, Step

CLEAR, NEAR_TIE, FAINT = 0.8, 0.25, 0.25
KNOWN_WELL = 0.5
MOST_OPTIONS = 5


def question_to_ask(question: Question, posterior: Posterior, trade: Trade) -> Step | None:
    """A question with symptoms to tap, when the words leave several open or none was heard; else None.

    Nothing is asked once symptoms were tapped, something was tested, or the causes are clear anyway.
    """
    complaint = question.complaint
    if complaint.symptoms or complaint.tests or posterior.causes[0].probability >= KNOWN_WELL:
        return None
    heard = [known for known in question.heard if known.symptom in trade.symptoms]
    best = max((known.chance for known in heard), default=0.0)
    if best >= CLEAR:
        return None
    if best < FAINT:
        return None if question.codes else _ask_openly([known.symptom for known in heard], posterior, trade)
    near = [known.symptom for known in heard if known.chance >= NEAR_TIE * best]
    return _ask_between(near, trade) if len(near) > 1 else None


def _ask_between(symptoms: list[str], trade: Trade) -> Step:
    titles = [trade.symptoms[symptom].title for symptom in symptoms[:MOST_OPTIONS]]
    return Step(
        do="ask",
        why=f"The words fit {len(titles)} different complaints; the answer decides which causes count.",
        question="Which is it?",
        options=_options(symptoms, trade),
    )


def _ask_openly(heard: list[str], posterior: Posterior, trade: Trade) -> Step:
    return Step(
        do="ask",
        why="No known complaint was recognised in the words.",
        question="Which comes closest, and when does it show: hot, cold, wet, on bumps, under load?",
        options=_options(list(dict.fromkeys([*heard, *_usual(posterior, trade)])), trade),
    )


def _usual(posterior: Posterior, trade: Trade) -> list[str]:
    """First symptoms of the likeliest causes, one for each system."""
    found: dict[str, str] = {}
    for row in posterior.causes:
        cause = trade.causes.get(row.cause)
        if cause is not None:
            found.setdefault(cause.system, cause.symptoms[0])
        if len(found) >= MOST_OPTIONS:
            break
    return list(found.values())


def _options(symptoms: list[str], trade: Trade) -> tuple[AskOption, ...]:
    return tuple(AskOption(symptom, trade.symptoms[symptom].title) for symptom in symptoms[:MOST_OPTIONS])
