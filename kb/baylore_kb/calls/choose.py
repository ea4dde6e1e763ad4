"""Choose the questions that tell most, one after the other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from baylore_kb.calls.chances import Askable
from baylore_kb.causes.beliefs import Floats

Ints = NDArray[np.int64]

MOST = 3
LEAST_BITS = 0.04
# A danger is worth asking for beyond what it tells of the cause, and so is how to see a fault that hides.
BITS_FOR_DANGER, LEAST_DANGER = 0.5, 0.03
BITS_TO_SEE_IT = 0.3


def chosen(asks: Sequence[Askable], likely: Floats, *, hides: bool) -> tuple[Askable, ...]:
    """At most three of the questions, each the most telling once those before it are answered.

    `likely` (C) are the shares of the causes; `hides` marks a fault that is not always there. Worth is
    counted in bits about the cause; what is worth less than 0.04 is not asked. No questions give ().
    """
    if not asks:
        return ()
    rows = np.concatenate([ask.rows for ask in asks])
    starts = np.cumsum([0, *(len(ask.rows) for ask in asks[:-1])])
    apart = np.array([ask.noise for ask in asks]) @ likely
    told = rows @ likely
    besides = np.array(
        [
            _besides(ask, told[start : start + len(ask.wording.answers) - 1], hides=hides)
            for ask, start in zip(asks, starts.tolist(), strict=True)
        ]
    )
    joint, found = likely[None, :], list[Askable]()
    free = np.ones(len(asks), dtype=bool)
    while True:
        worth = np.where(free, _spread(joint, rows, starts) - apart + besides, 0.0)
        if worth.max() < LEAST_BITS:
            return tuple(found)
        best = asks[int(np.argmax(worth))]
        found.append(best)
        if len(found) == MOST:
            return tuple(found)
        joint = (joint[:, None, :] * best.rows[None, :, :]).reshape(-1, likely.size)
        free &= [not _alike(ask, best) for ask in asks]


def _spread(joint: Floats, rows: Floats, starts: Ints) -> Floats:
    """(K) expected entropy in bits of each question's answer after the answers of `joint` (Z, C).

    `rows` (A, C) are the answers of all questions, `starts` (K) where each begins.
    """
    answers = joint @ rows.T
    before = np.maximum(joint.sum(axis=1, keepdims=True), 1e-300)
    share = np.maximum(answers / before, 1e-300)
    return np.asarray(np.add.reduceat((-answers * np.log2(share)).sum(axis=0), starts))


def _besides(ask: Askable, told: Floats, *, hides: bool) -> float:
    """What the answer is worth beyond the cause, in bits: a danger found, a way to see the fault.

    `told` are the chances of its answers without the last.
    """
    wanted = ask.wording.kind == "danger" or (hides and ask.wording.kind == "when")
    if not wanted:
        return 0.0
    chance = float(told.sum())
    if ask.wording.kind == "when":
        return BITS_TO_SEE_IT * chance
    return BITS_FOR_DANGER * chance if chance >= LEAST_DANGER else -LEAST_BITS


def _alike(one: Askable, other: Askable) -> bool:
    """Whether the two ask for the same, or both only ask when."""
    kinds = (one.wording.kind, other.wording.kind)
    if one.wording.question == other.wording.question or kinds == ("when", "when"):
        return True
    return "hint" not in kinds and not one.symptoms.isdisjoint(other.symptoms)
