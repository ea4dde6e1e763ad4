"""Intervals for proportions and for counts against what was expected."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.stats import beta, chi2, gamma, poisson

Interval = tuple[float, float]


def jeffreys_proportion(hits: int, trials: int, *, level: float = 0.95) -> Interval:
    """Equal-tailed Jeffreys interval of a proportion, 0 <= hits <= trials, inside [0, 1].

    No trials give nearly the whole of [0, 1]. Source: Brown, Cai & DasGupta 2001.
    """
    tail = (1.0 - level) / 2.0
    a, b = hits + 0.5, trials - hits + 0.5
    return float(beta.ppf(tail, a, b)), float(beta.ppf(1.0 - tail, a, b))


def wilson_proportion(hits: int, trials: int, *, z: float = 1.959963984540054) -> Interval:
    """Wilson's score interval of a proportion for `trials` over 0; z = 1.96 for 95 %. Source: Wilson 1927."""
    share, turn = hits / trials, z * z / trials
    middle = (share + turn / 2.0) / (1.0 + turn)
    half = z / (1.0 + turn) * math.sqrt(share * (1.0 - share) / trials + turn / (4.0 * trials))
    return max(0.0, middle - half), min(1.0, middle + half)


def exact_proportion(hits: int, trials: int, *, level: float = 0.95) -> Interval:
    """Clopper-Pearson interval of a proportion: covers at least `level`. Source: Clopper & Pearson 1934."""
    tail = (1.0 - level) / 2.0
    low = 0.0 if hits == 0 else float(beta.ppf(tail, hits, trials - hits + 1))
    high = 1.0 if hits == trials else float(beta.ppf(1.0 - tail, hits + 1, trials - hits))
    return low, high


def garwood_count(count: int, *, level: float = 0.95) -> Interval:
    """Exact limits of a Poisson mean from a count of 0 or more. Source: Garwood 1936."""
    tail = (1.0 - level) / 2.0
    low = 0.0 if count == 0 else float(chi2.ppf(tail, 2 * count)) / 2.0
    return low, float(chi2.ppf(1.0 - tail, 2 * count + 2)) / 2.0


def jeffreys_count(count: int, *, level: float = 0.95) -> Interval:
    """Equal-tailed Jeffreys limits of a Poisson mean from a count of 0 or more, for display."""
    tail = (1.0 - level) / 2.0
    return float(gamma.ppf(tail, count + 0.5)), float(gamma.ppf(1.0 - tail, count + 0.5))


def upper_p(count: int, expected: float) -> float:
    """Chance of `count` or more when `expected` (over 0) is true; 1 for a count of 0."""
    return float(poisson.sf(count - 1, expected))


def mid_upper_p(count: int, expected: float) -> float:
    """As `upper_p` with the count itself taken half: less conservative."""
    return upper_p(count, expected) - float(poisson.pmf(count, expected)) / 2.0


@dataclass(frozen=True, slots=True)
class Standardised:
    """Observed over expected with exact 95 % limits and the chance of as many by luck."""

    observed: int
    expected: float
    ratio: float
    low: float
    high: float
    upper_p: float


def standardised(observed: Sequence[int], visits: Sequence[float], rates: Sequence[float]) -> Standardised:
    """Observed against the reference rates of each stratum, in step; some expectation over 0.

    Lengths that differ raise ValueError. Source: Breslow & Day 1987.
    """
    expected = math.fsum(v * r for v, r in zip(visits, rates, strict=True))
    count = sum(observed)
    low, high = garwood_count(count)
    return Standardised(
        count, expected, count / expected, low / expected, high / expected, upper_p(count, expected)
    )
