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
    x = np.arange(len(y), dtype=float)
    best = _top(x, y, e)
    if best is None:
        return None
    fitted = e * np.exp(best[0] + best[1] * x)
    error = math.sqrt(float(fitted.sum()) / _spread(x, fitted))
    p = 2.0 * float(ndtr(-abs(best[1]) / error))
    deviance = 2.0 * float((xlogy(y, y / fitted) - (y - fitted)).sum())
    return Trend(best[0], best[1], error, p, deviance)


def _spread(x: np.ndarray, fitted: np.ndarray) -> float:
    """The determinant of the information about intercept and slope."""
    return float(fitted.sum() * (fitted @ (x * x)) - (fitted @ x) ** 2)


def _top(x: np.ndarray, y: np.ndarray, e: np.ndarray) -> tuple[float, float] | None:
    """The likeliest intercept and slope; None where the steps do not settle."""
    intercept, slope = math.log(float(y.sum()) / float(e.sum())), 0.0
    for _ in range(_STEPS):
        fitted = e * np.exp(np.clip(intercept + slope * x, -30.0, 30.0))
        spread = _spread(x, fitted)
        if spread < 1e-12:
            return None
        off, along = float((y - fitted).sum()), float(x @ (y - fitted))
        first = (float(fitted @ (x * x)) * off - float(fitted @ x) * along) / spread
        second = (float(fitted.sum()) * along - float(fitted @ x) * off) / spread
        whole = min(1.0, 2.0 / max(1e-300, abs(first), abs(second)))
        intercept, slope = intercept + first * whole, slope + second * whole
        if max(abs(first), abs(second)) < 1e-10:
            return intercept, slope
    return None
