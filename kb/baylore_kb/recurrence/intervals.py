"""Intervals for proportions and for counts against what was expected."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.special import betaincinv, gammaincinv, gammaln, pdtrc

Interval = tuple[float, float]


def jeffreys_proportion(hits: int, trials: int, *, level: float = 0.95) -> Interval:
    """Equal-tailed Jeffreys interval of a proportion, 0 <= hits <= trials, inside [0, 1].

    No trials give nearly the whole of [0, 1]. Source: Brown, Cai & DasGupta 2001.
    """
    tail = (1.0 - level) / 2.0
    a, b = hits + 0.5, trials - hits + 0.5
    return float(betaincinv(a, b, tail)), float(betaincinv(a, b, 1.0 - tail))


def wilson_proportion(hits: int, trials: int, *, z: float = 1.959963984540054) -> Interval:
    """Wilson's score interval of a proportion for `trials` over 0; z = 1.96 for 95 %. Source: Wilson 1927."""
    share, turn = hits / trials, z * z / trials
    middle = (share + turn / 2.0) / (1.0 + turn)
    half = z / (1.0 + turn) * math.sqrt(share * (1.0 - share) / trials + turn / (4.0 * trials))
    return max(0.0, middle - half), min(1.0, middle + half)


def exact_proportion(hits: int, trials: int, *, level: float = 0.95) -> Interval:
    """Clopper-Pearson interval of a proportion: covers at least `level`. Source: Clopper & Pearson 1934."""
    tail = (1.0 - level) / 2.0
    low = 0.0 if hits == 0 else float(betaincinv(hits, trials - hits + 1, tail))
    high = 1.0 if hits == trials else float(betaincinv(hits + 1, trials - hits, 1.0 - tail))
    return low, high


def garwood_count(count: int, *, level: float = 0.95) -> Interval:
    """Exact limits of a Poisson mean from a count of 0 or more. Source: Garwood 1936."""
    tail = (1.0 - level) / 2.0
    low = 0.0 if count == 0 else float(gammaincinv(count, tail))
    return low, float(gammaincinv(count + 1, 1.0 - tail))


def jeffreys_count(count: int, *, level: float = 0.95) -> Interval:
    """Equal-tailed Jeffreys limits of a Poisson mean from a count of 0 or more, for display."""
    tail = (1.0 - level) / 2.0
    return float(gammaincinv(count + 0.5, tail)), float(gammaincinv(count + 0.5, 1.0 - tail))


def upper_p(count: int, expected: float) -> float:
    """Chance of `count` or more when `expected` (over 0) is true; 1 for a count of 0."""
    return 1.0 if count == 0 else float(pdtrc(count - 1, expected))


def mid_upper_p(count: int, expected: float) -> float:
    """As `upper_p` with the count itself taken half: less conservative."""
    log_chance = count * math.log(expected) - expected - float(gammaln(count + 1))
    return upper_p(count, expected) - math.exp(log_chance) / 2.0


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
