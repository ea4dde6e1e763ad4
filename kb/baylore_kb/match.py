"""Rank past cases by the chance that they have the same cause, and say why."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baylore_kb.features import NAMES, Shared, compare
from baylore_kb.fit import fit
from baylore_kb.index import Candidate, Snapshot
from baylore_kb.question import Question
from baylore_kb.values import Match
from baylore_kb.weights import SHIPPED, MatchWeights

_OF_TESTS = np.array([name in ("tests", "tests_apart") for name in NAMES])

__all__ = ["SHIPPED", "MatchWeights", "fit", "as_matches", "matches"]


def matches(
    question: Question,
    candidates: Sequence[Candidate],
    snapshot: Snapshot,
    *,
    weights: MatchWeights = SHIPPED,
) -> tuple[Match, ...]:
    """The candidates as matches, best first, ties by case id; no candidates gives ().

    `snapshot` must be the one that gave the candidates.
    """
    return as_matches(compare(question, candidates, snapshot), weights) if candidates else ()


def as_matches(shared: Sequence[Shared], weights: MatchWeights) -> tuple[Match, ...]:
    """What past cases share, as matches by these weights, best first, ties by case id."""
    if not shared:
        return ()
    rows = np.asarray([each.features.row() for each in shared])
    chances, before = weights.chances(rows), weights.chances(np.where(_OF_TESTS, 0.0, rows))
    found = (
        Match(each.candidate.case, float(chance), each.why, float(bare))
        for each, chance, bare in zip(shared, chances, before, strict=True)
    )
    return tuple(sorted(found, key=lambda match: (-match.chance, match.case.id)))
