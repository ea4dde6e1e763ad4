"""Whether counts rise against their expectation from period to period."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, xlogy

ENOUGH_PERIODS = 6
ENOUGH_EVENTS = 15
_STEPS = 60
_SURE = 0.05


@dataclass(frozen=True, slots=True)
class Trend:
    """Counts grow by `per_period` each period: e to the slope; `p` two-sided chance of it by luck."""

    intercept: float
    slope: float
    error: float
    p: float
    deviance: float

    @property
    def per_period(self) -> float:
        """The ratio of one period's rate to the one before."""
        return math.exp(self.slope)

    @property
    def rising(self) -> bool:
        """Whether a rise is hardly luck."""
        return self.slope > 0.0 and self.p < _SURE


def trend(counts: Sequence[int], expected: Sequence[float]) -> Trend | None:
    """Log-linear Poisson trend of counts against what was expected (over 0), in step.

    None under six periods or fifteen events, or where the likelihood has no top: show the counts only.
    """
    if len(counts) < ENOUGH_PERIODS or sum(counts) < ENOUGH_EVENTS:
        return None
    return trend_of(counts, expected)


def trend_of(counts: Sequence[int], expected: Sequence[float]) -> Trend | None:
    """As `trend` for any number of periods (two or more) with some event; by Newton's steps."""
    y, e = np.asarray(counts, dtype=float), np.asarray(expected, dtype=float)
    x = np.column_stack([np.ones(len(y)), np.arange(len(y), dtype=float)])
    start = np.array([math.log(y.sum() / e.sum()), 0.0])
    best = _top(x, y, e, start)
    if best is None:
        return None
    fitted = e * np.exp(x @ best)
    error = math.sqrt(float(np.linalg.inv(x.T @ (fitted[:, None] * x))[1, 1]))
    p = 2.0 * float(ndtr(-abs(best[1]) / error))
    deviance = 2.0 * float((xlogy(y, y / fitted) - (y - fitted)).sum())
    return Trend(float(best[0]), float(best[1]), error, p, deviance)


def _top(x: np.ndarray, y: np.ndarray, e: np.ndarray, start: np.ndarray) -> np.ndarray | None:
    """The likeliest coefficients; None where the steps do not settle."""
    at = start
    for _ in range(_STEPS):
        fitted = e * np.exp(np.clip(x @ at, -30.0, 30.0))
        step = np.linalg.lstsq(x.T @ (fitted[:, None] * x), x.T @ (y - fitted), rcond=None)[0]
        at = at + step * min(1.0, 2.0 / max(1e-300, float(np.abs(step).max())))
        if float(np.abs(step).max()) < 1e-10:
            return np.asarray(at)
    return None
