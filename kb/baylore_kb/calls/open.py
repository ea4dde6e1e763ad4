"""Which questions are still open: asked for such a complaint, and not answered by it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import NamedTuple

from baylore_kb.calls.chances import Askable
from baylore_kb.conditions import said_in
from baylore_kb.question import Question

HEARD, HEARD_CLEARLY = 0.15, 0.85
_HIDES = re.compile(
    r"\b(sometimes|intermittent\w*|now and then|occasional\w*|on and off|once in a while|random\w*"
    r"|comes and goes)\b"
)


def still_open(asks: Iterable[Askable], question: Question) -> list[Askable]:
    """The questions that belong to what was heard and that nothing given or plainly said answers."""
    heard = _Heard(
        frozenset(each.symptom for each in question.heard if each.chance >= HEARD),
        frozenset(each.symptom for each in question.heard if each.chance >= HEARD_CLEARLY),
    )
    when = _said_when(question)
    return [ask for ask in asks if _is_open(ask, question, heard, when=when)]


class _Heard(NamedTuple):
    """Symptoms heard at all, and those heard clearly."""

    at_all: frozenset[str]
    clearly: frozenset[str]


def _is_open(ask: Askable, question: Question, heard: _Heard, *, when: Collection[str]) -> bool:
    wording = ask.wording
    if wording.among and wording.among.isdisjoint(heard.at_all):
        return False
    if wording.kind == "when":
        return ask.conditions.isdisjoint(when)
    if not question.complaint.symptoms and wording.settled:
        return wording.vague(question.mended) or not (wording.told(question.mended) or _clear(ask, heard))
    return not _clear(ask, heard)


def _clear(ask: Askable, heard: _Heard) -> bool:
    """Whether an answer, or what makes the question idle, was heard clearly; of a danger, heard at all."""
    enough = heard.at_all if ask.wording.kind == "danger" else heard.clearly
    return not (ask.symptoms.isdisjoint(enough) and ask.wording.unless.isdisjoint(enough))


def says_it_hides(text: str) -> bool:
    """Whether the words say that the fault is not always there."""
    return _HIDES.search(text.lower()) is not None


def _said_when(question: Question) -> frozenset[str]:
    """Conditions given or plainly said."""
    complaint = question.complaint
    return frozenset(complaint.shows_when) | said_in(complaint.text)
