"""How likely each cause makes each answer, laid out once for a loaded trade."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.calls.which import WHICH
from baylore_kb.calls.wordings import DANGER, LAMPS_DIM, WHEN, Kind, Said, Wording
from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.conditions import opposites
from baylore_kb.metrics import entropy
from baylore_kb.once_each import once_each

WORDINGS = (*WHICH, LAMPS_DIM, *WHEN, *DANGER)

# Weights of "something else" beside the symptoms asked for: which of several it is, one of several is
# mostly said; what it does besides, mostly nothing.
NONE_OF_THEM, NOTHING_BESIDES = 0.1, 3.0
SEES_NO_DIFFERENCE = 0.3


@dataclass(frozen=True, slots=True)
class Askable:
    """A question with P(answer | cause): `rows` (A, C), columns summing to 1; `noise` (C) is the entropy in
    bits of the answer once the cause is known. The last row may be an answer that is not among `answers`:
    something else. `symptoms` are those the answers add, `conditions` those asked for and their opposites.
    """

    wording: Wording
    rows: Floats
    noise: Floats
    symptoms: frozenset[str]
    conditions: frozenset[str]


def askable(wording: Wording, beliefs: Beliefs) -> Askable:
    """The question with its chances under each listed cause."""
    rows = _ROWS[wording.kind](wording.answers, beliefs)
    symptoms = frozenset(said.symptom for said in wording.answers if said.symptom)
    conditions = frozenset(said.condition for said in wording.answers if said.condition)
    return Askable(wording, rows, bits(rows), symptoms, conditions.union(*map(opposites, conditions)))


def bits(chances: Floats) -> Floats:
    """Entropy over the first axis; 0 where a chance is 0."""
    return entropy(chances, axis=0)


def _by_symptom(answers: Iterable[Said], beliefs: Beliefs, *, nothing: float = NONE_OF_THEM) -> Floats:
    shown = [_shown(said, beliefs) for said in answers]
    rows = np.array([*shown, np.full(len(beliefs.causes), nothing)])
    return np.asarray(rows / rows.sum(axis=0))


def _besides(answers: Iterable[Said], beliefs: Beliefs) -> Floats:
    return _by_symptom(answers, beliefs, nothing=NOTHING_BESIDES)


def _shown(said: Said, beliefs: Beliefs) -> Floats:
    """(C) how readily each cause shows as the answer's likeliest symptom."""
    listed = [beliefs.shows[beliefs.symptom_at[id]] for id in said.shows if id in beliefs.symptom_at]
    return np.max(listed, axis=0) if listed else np.zeros(len(beliefs.causes))


def _by_condition(answers: tuple[Said, ...], beliefs: Beliefs) -> Floats:
    asked = [beliefs.shown_in[said.condition] for said in answers if said.condition]
    if len(asked) == 1:
        return np.array([asked[0], 1.0 - asked[0]])
    told = np.array(asked) / np.sum(asked, axis=0)
    return np.vstack([(1.0 - SEES_NO_DIFFERENCE) * told, np.full(len(beliefs.causes), SEES_NO_DIFFERENCE)])


def _yes_or_no(answers: tuple[Said, ...], beliefs: Beliefs) -> Floats:
    shown = np.minimum(_shown(answers[0], beliefs), 1.0 - NONE_OF_THEM)
    return np.array([shown, 1.0 - shown])


_ROWS: Mapping[Kind, Callable[[tuple[Said, ...], Beliefs], Floats]] = {
    "which": _by_symptom,
    "also": _besides,
    "hint": _by_symptom,
    "when": _by_condition,
    "danger": _yes_or_no,
}


@once_each
def askables_of(beliefs: Beliefs) -> tuple[Askable, ...]:
    """Every worded question for these lists; laid out once for each loaded trade."""
    return tuple(askable(each, beliefs) for each in WORDINGS)
