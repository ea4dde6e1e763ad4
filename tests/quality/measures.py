"""How good rankings are, and whether one is better than another beyond chance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import mean

import numpy as np
from tests.quality.queryset import QuerySet

from baylore_kb.metrics import ndcg, reciprocal_rank, sign_flip, success

DEPTH = 10
RESAMPLED = 10_000
Ranking = Sequence[str]


@dataclass(frozen=True, slots=True)
class Result:
    """How one engine did on one set: means over its queries, and each query's reciprocal rank."""

    engine: str
    hit_1: float
    hit_10: float
    mrr: float
    ndcg: float
    ranks: tuple[float, ...]
    seconds: float


@dataclass(frozen=True, slots=True)
class Gap:
    """A difference of mean reciprocal ranks, its 95 % bootstrap interval, its chance if there were none."""

    mean: float
    low: float
    high: float
    p: float

    def __str__(self) -> str:
        return f"{self.mean:+.3f} [{self.low:+.3f}, {self.high:+.3f}] p {self.p:.4f}"


def evaluate(
    rankings: Mapping[str, Ranking], given: QuerySet, *, engine: str = "", seconds: float = 0.0
) -> Result:
    """The measures of these rankings by query id (linear gains, first ten); a missing ranking is empty."""
    runs = [(list(rankings.get(query.id, ()))[:DEPTH], query.grades) for query in given.queries]
    ranks = tuple(reciprocal_rank(run, grades) for run, grades in runs)
    return Result(
        engine,
        mean(success(run, grades, 1) for run, grades in runs),
        mean(success(run, grades, DEPTH) for run, grades in runs),
        mean(ranks),
        mean(ndcg(run, grades, DEPTH) for run, grades in runs),
        ranks,
        seconds,
    )


def gap(one: Result, other: Result, *, seed: int = 0) -> Gap:
    """One against another over the same queries: paired sign flips (10,000 draws) and a paired bootstrap."""
    flip = sign_flip(one.ranks, other.ranks, seed=seed)
    low, high = _interval(np.subtract(one.ranks, other.ranks), np.random.default_rng(seed))
    return Gap(flip.mean_difference, low, high, flip.p_value)


def _interval(gaps: np.ndarray, chance: np.random.Generator) -> tuple[float, float]:
    # how often each query is drawn, so that no matrix of draws by queries of indices is gathered
    drawn = chance.multinomial(len(gaps), np.full(len(gaps), 1 / len(gaps)), size=RESAMPLED)
    low, high = np.percentile(drawn @ gaps / len(gaps), [2.5, 97.5])
    return float(low), float(high)
