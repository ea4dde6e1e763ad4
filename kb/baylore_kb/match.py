"""Rank past cases by the chance that they have the same cause, and say why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from baylore_kb.features import NAMES, Compared, compare
from baylore_kb.fit import fit
from baylore_kb.index import Candidate, Snapshot
from baylore_kb.question import Question
from baylore_kb.values import Match
from baylore_kb.weights import SHIPPED, MatchWeights

_OF_TESTS = np.array([name in ("tests", "tests_apart") for name in NAMES])

__all__ = ["SHIPPED", "MatchWeights", "as_matches", "explained", "fit", "matches"]


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
    compared = compare(question, candidates, snapshot)
    return explained(as_matches(compared, weights), compared)


def as_matches(compared: Compared, weights: MatchWeights) -> tuple[Match, ...]:
    """What past cases share, as matches by these weights, best first, ties by case id; not yet in words."""
    rows = compared.rows
    chances = weights.chances(rows).tolist()
    before = weights.chances(np.where(_OF_TESTS, 0.0, rows)).tolist() if rows[:, _OF_TESTS].any() else chances
    found = (
        Match(candidate.case, chance, before_tests=bare)
        for candidate, chance, bare in zip(compared.candidates, chances, before, strict=True)
    )
    return tuple(sorted(found, key=lambda match: (-match.chance, match.case.id)))


def explained(found: Iterable[Match], compared: Compared) -> tuple[Match, ...]:
    """The matches with what their cases share in words; costs some time each, so do it for those shown."""
    places = {candidate.case.id: place for place, candidate in enumerate(compared.candidates)}
    return tuple(match._replace(why=compared.why(places[match.case.id])) for match in found)
