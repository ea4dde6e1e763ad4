"""How good a ranking is: nDCG with linear gain, reciprocal rank, average precision, recall.

`run` is the ranked list of ids, best first, each once; `grades` gives the relevance of
the ids that have any (over 0). Every measure lies in [0, 1]; a query without anything
relevant gives 0 and is left out of means by `mean_over`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

Grades = Mapping[str, float]


def ranked(scores: Mapping[str, float]) -> list[str]:
    """Ids by falling score, ties by id, so that the same scores always rank the same."""
    return sorted(scores, key=lambda name: (-scores[name], name))


def _relevant(grades: Grades) -> set[str]:
    return {name for name, grade in grades.items() if grade > 0}


def dcg(gains: Iterable[float]) -> float:
    """Sum of gain / log2(rank + 1), ranks from 1; 0 for no gains. Source: trec_eval's linear form."""
    return math.fsum(gain / math.log2(rank + 1) for rank, gain in enumerate(gains, start=1))


def ndcg(run: Sequence[str], grades: Grades, k: int | None = None) -> float:
    """DCG of the first `k` (all when None) over the best possible; 0 without anything relevant."""
    best = dcg(sorted(grades.values(), reverse=True)[:k])
    return dcg(grades.get(name, 0.0) for name in run[:k]) / best if best > 0 else 0.0


def ndcg_of_scores(true: Sequence[float], scores: Sequence[float]) -> float:
    """nDCG of gains in step with scores, averaged over the orders of tied scores; 0 for no gain.

    Source: McSherry & Najork 2008.
    """
    best = dcg(sorted(true, reverse=True))
    if best <= 0:
        return 0.0
    sizes = Counter(scores)
    total, rank = 0.0, 0
    for score in sorted(sizes, reverse=True):
        gain = math.fsum(t for t, s in zip(true, scores, strict=True) if s == score) / sizes[score]
        total += gain * math.fsum(1.0 / math.log2(rank + 2 + step) for step in range(sizes[score]))
        rank += sizes[score]
    return total / best


def reciprocal_rank(run: Sequence[str], grades: Grades) -> float:
    """1 / rank of the first relevant id; 0 when none is found."""
    relevant = _relevant(grades)
    return next((1.0 / rank for rank, name in enumerate(run, start=1) if name in relevant), 0.0)


def average_precision(run: Sequence[str], grades: Grades) -> float:
    """Mean precision at each relevant id, over all relevant ones, found or not."""
    relevant = _relevant(grades)
    found, total = 0, 0.0
    for rank, name in enumerate(run, start=1):
        if name in relevant:
            found += 1
            total += found / rank
    return total / len(relevant) if relevant else 0.0


def recall(run: Sequence[str], grades: Grades, k: int) -> float:
    """Relevant ids among the first `k` over all relevant ones."""
    relevant = _relevant(grades)
    return len(relevant.intersection(run[:k])) / len(relevant) if relevant else 0.0


def precision(run: Sequence[str], grades: Grades, k: int) -> float:
    """Relevant ids among the first `k`, over `k` (over 0) even when fewer were ranked."""
    return len(_relevant(grades).intersection(run[:k])) / k


def success(run: Sequence[str], grades: Grades, k: int) -> float:
    """1 when any of the first `k` is relevant, else 0."""
    return 1.0 if _relevant(grades).intersection(run[:k]) else 0.0


@dataclass(frozen=True, slots=True)
class MeanOver:
    """A mean over the queries that have something relevant, and how many there were and were left out."""

    mean: float | None
    queries: int
    left_out: int


def mean_over(values: Mapping[str, float], grades: Mapping[str, Grades]) -> MeanOver:
    """Mean of `values` by query, leaving out queries without anything relevant; None when none is left."""
    kept = [value for query, value in values.items() if _relevant(grades.get(query, {}))]
    mean = math.fsum(kept) / len(kept) if kept else None
    return MeanOver(mean, len(kept), len(values) - len(kept))
