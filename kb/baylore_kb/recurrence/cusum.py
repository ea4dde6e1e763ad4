"""Cumulative sums: a slow rise over its expectation, month by month."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from scipy.special import gammaln

RATIO = 2.0


@dataclass(frozen=True, slots=True)
class Rise:
    """The sum after each period, and the first period (from 0) that reached the limit, None for none."""

    sums: tuple[float, ...]
    first: int | None


def rise(
    counts: Sequence[int],
    expected: Sequence[float],
    *,
    limit: float,
    ratio: float = RATIO,
    restart: bool = False,
) -> Rise:
    """S = max(0, S + x ln R - mu (R - 1)) for counts against their expectation (0 or more), in step.

    `ratio` over 1 is the rise looked for; with `restart` the sum begins anew after reaching `limit`.
    Source: Page 1954; Lucas 1985 for counts.
    """
    sums: list[float] = []
    value = 0.0
    for count, mean in zip(counts, expected, strict=True):
        value = 0.0 if restart and value >= limit else value
        value = max(0.0, value + count * math.log(ratio) - mean * (ratio - 1.0))
        sums.append(value)
    return Rise(tuple(sums), next((at for at, each in enumerate(sums) if each >= limit), None))


def safe_limit(periods: float) -> float:
    """A limit for `rise` that luck alone reaches once in `periods` (over 1) or more, whatever is expected.

    Source: Lorden 1971, mean run length of at least e to the limit.
    """
    return math.log(periods)


def best_step(usual: float, raised: float) -> float:
    """The step k of the plain form S = max(0, S + x - k) that tells two means (over 0) apart soonest."""
    return (raised - usual) / (math.log(raised) - math.log(usual))


def run_length(mean: float, *, step: float, limit: float) -> float:
    """Mean number of periods until S = max(0, S + x - step) reaches `limit` (over 0) from 0.

    Exact for steps that are hundredths; x is Poisson with `mean` (over 0). Source: Brook & Evans 1972.
    """
    parts = Fraction(step).limit_denominator(100)
    size = math.ceil(limit * parts.denominator)
    moves = np.zeros((size, size))
    for start in range(size):
        _spread(moves[start], start, mean, parts)
    return float(np.linalg.solve(np.eye(size) - moves, np.ones(size))[0])


def _spread(row: np.ndarray, start: int, mean: float, step: Fraction) -> None:
    """Add the chances of each next sum below the limit, in units of one over the step's denominator."""
    count = 0
    while (end := max(0, start + count * step.denominator - step.numerator)) < len(row):
        row[end] += math.exp(count * math.log(mean) - mean - float(gammaln(count + 1)))
        count += 1
