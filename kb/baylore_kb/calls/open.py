"""Which questions are still open: asked for such a complaint, and not answered by it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping

from baylore_kb.calls.chances import Askable
from baylore_kb.calls.wordings import Wording
from baylore_kb.conditions import opposites, said_in
from baylore_kb.question import Question

HEARD, HEARD_CLEARLY = 0.15, 0.85
_HIDES = re.compile(
    r"\b(sometimes|intermittent\w*|now and then|occasional\w*|on and off|once in a while|random\w*"
    r"|comes and goes)\b"
)


def still_open(asks: Iterable[Askable], question: Question) -> list[Askable]:
    """The questions that belong to what was heard and that nothing given or plainly said answers."""
    heard, when = question.symptoms, _said_when(question)
    return [ask for ask in asks if _is_open(ask.wording, question, heard, when=when)]


def _is_open(
    wording: Wording, question: Question, heard: Mapping[str, float], *, when: Collection[str]
) -> bool:
    if wording.among and not any(heard.get(id, 0.0) >= HEARD for id in wording.among):
        return False
    if wording.kind == "when":
        return _touched(wording).isdisjoint(when)
    if not question.complaint.symptoms and wording.settled:
        return wording.vague(question.mended) or not (wording.told(question.mended) or _clear(wording, heard))
    return not _clear(wording, heard)


def _clear(wording: Wording, heard: Mapping[str, float]) -> bool:
    """Whether an answer, or what makes the question idle, was heard clearly; of a danger, heard at all."""
    enough = HEARD if wording.kind == "danger" else HEARD_CLEARLY
    answers = {said.symptom for said in wording.answers if said.symptom}
    return any(heard.get(id, 0.0) >= enough for id in answers | wording.unless)


def says_it_hides(text: str) -> bool:
    """Whether the words say that the fault is not always there."""
    return _HIDES.search(text.lower()) is not None


def _touched(wording: Wording) -> frozenset[str]:
    """The conditions asked for, and their opposites."""
    asked = {said.condition for said in wording.answers if said.condition}
    return frozenset(asked | {other for condition in asked for other in opposites(condition)})


def _said_when(question: Question) -> frozenset[str]:
    """Conditions given or plainly said."""
    complaint = question.complaint
    return frozenset(complaint.shows_when) | said_in(complaint.text)
