"""Compare two counts over two exposures: did it happen more often in one of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln, pdtrik


@dataclass(frozen=True, slots=True)
class Rate:
    """A count (0 or more) over an exposure (over 0: months, visits, cars)."""

    count: int
    exposure: float

    @property
    def value(self) -> float:
        """Count per unit of exposure."""
        return self.count / self.exposure


def conditional_p(one: Rate, other: Rate) -> float:
    """Two-sided exact chance of so uneven a split by luck; 1 without any count. Conservative.

    All splits no likelier than the one seen are added. Source: Przyborowski & Wilenski 1940.
    """
    total = one.count + other.count
    share = one.exposure / (one.exposure + other.exposure)
    counts = np.arange(total + 1)
    logs = gammaln(total + 1) - gammaln(counts + 1) - gammaln(total - counts + 1)
    chances = np.exp(logs + counts * math.log(share) + (total - counts) * math.log1p(-share))
    # The small slack counts equal chances as equal in spite of rounding.
    return min(1.0, float(chances[chances <= chances[one.count] * (1.0 + 1e-7)].sum()))


def e_test_p(one: Rate, other: Rate) -> float:
    """Two-sided chance of so large a difference by luck, less conservative; 1 without any count.

    Source: Krishnamoorthy & Thomson 2004.
    """
    if one.count + other.count == 0:
        return 1.0
    pooled = (one.count + other.count) / (one.exposure + other.exposure)
    first, chance1 = _likely(pooled * one.exposure)
    second, chance2 = _likely(pooled * other.exposure)
    seen = _distance(np.array([[one.count]]), np.array([[other.count]]), one.exposure, other.exposure)[0, 0]
    far = _distance(first[:, None], second[None, :], one.exposure, other.exposure) >= seen
    return float((chance1[:, None] * chance2[None, :])[far].sum())


def _likely(mean: float) -> tuple[np.ndarray, np.ndarray]:
    """All counts of a Poisson mean but a tail of under 1e-11, with their chances."""
    top = math.ceil(float(pdtrik(1.0 - 1e-11, mean))) + 2
    counts = np.arange(top + 1)
    return counts, np.exp(counts * math.log(mean) - mean - gammaln(counts + 1))


def _distance(x1: np.ndarray, x2: np.ndarray, n1: float, n2: float) -> np.ndarray:
    """How many standard errors two rates differ by; 0 where both are 0."""
    difference = np.abs(x1 / n1 - x2 / n2)
    variance = x1 / n1**2 + x2 / n2**2
    return np.where(variance > 0.0, difference / np.sqrt(np.where(variance > 0.0, variance, 1.0)), 0.0)
