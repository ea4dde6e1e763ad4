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
_NEAR = 1e-7


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
    y, e = np.array([counts], dtype=float), np.array([expected], dtype=float)
    return _trends(y, e)[0]


def trends(counts: np.ndarray, expected: np.ndarray) -> list[Trend | None]:
    """The `trend` of each row; periods of which nothing was expected are passed over."""
    seen = expected > 0.0
    y = np.where(seen, counts, 0.0)
    able = np.flatnonzero((seen.sum(axis=1) >= ENOUGH_PERIODS) & (y.sum(axis=1) >= ENOUGH_EVENTS))
    found: list[Trend | None] = [None] * len(counts)
    for at, one in zip(able.tolist(), _trends(y[able], expected[able]), strict=True):
        found[at] = one
    return found


def _trends(y: np.ndarray, e: np.ndarray) -> list[Trend | None]:
    """One trend a row; None where Newton's steps do not settle."""
    x = _periods(e > 0.0)
    settled, intercept, slope = _tops(x, y, e)
    fitted = e * np.exp(intercept[:, None] + slope[:, None] * x)
    error = np.sqrt(_over(fitted.sum(axis=1), _Moments(x, fitted).spread))
    p = 2.0 * ndtr(-np.abs(_over(slope, error)))
    deviance = 2.0 * (xlogy(y, np.where(y > 0.0, _over(y, fitted), 1.0)) - (y - fitted)).sum(axis=1)
    figures = np.stack([intercept, slope, error, p, deviance], axis=1).tolist()
    return [Trend(*row) if good else None for good, row in zip(settled.tolist(), figures, strict=True)]


def _periods(seen: np.ndarray) -> np.ndarray:
    """The periods seen, counted from 0: of each row, or of all where none is passed over."""
    return np.arange(seen.shape[1], dtype=float) if seen.all() else np.cumsum(seen, axis=1) - 1.0


def _over(value: np.ndarray, by: np.ndarray) -> np.ndarray:
    """The quotient; what is divided by nothing is not looked at."""
    return np.asarray(np.divide(value, by, out=np.zeros_like(value), where=by > 0.0))


class _Moments:
    """Sums over each row of `fitted`, plain and by the first two powers of x; no row feels the others."""

    def __init__(self, x: np.ndarray, fitted: np.ndarray) -> None:
        along = fitted * x
        self.whole, self.first = fitted.sum(axis=1), along.sum(axis=1)
        self.second = (along * x).sum(axis=1)
        # The determinant of the information about intercept and slope.
        self.spread = self.whole * self.second - self.first**2


def _tops(x: np.ndarray, y: np.ndarray, e: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Whether each row's steps settled, and its likeliest intercept and slope."""
    settled = np.zeros(len(y), dtype=bool)
    whole = y.sum(axis=1), (y * x).sum(axis=1)
    line = np.stack([np.log(whole[0] / e.sum(axis=1)), np.zeros(len(y))])
    going = np.arange(len(y))
    for _ in range(_STEPS):
        if not len(going):
            break
        left = whole[0][going], whole[1][going]
        step, able = _step(x if x.ndim == 1 else x[going], e[going], line[:, going], left)
        going, step = going[able], step[:, able]
        far = np.abs(step).max(axis=0, initial=0.0)
        line[:, going] += step * np.minimum(1.0, 2.0 / np.maximum(far, 1e-300))
        # The next step would be about the square of this one.
        settled[going] = far < _NEAR
        going = going[far >= _NEAR]
    return settled, line[0], line[1]


def _step(
    x: np.ndarray, e: np.ndarray, line: np.ndarray, whole: tuple[np.ndarray, np.ndarray]
) -> tuple[np.ndarray, np.ndarray]:
    """Newton's step of intercept and slope for each row, and whether there is one."""
    power = line[1][:, None] * x
    power += line[0][:, None]
    np.clip(power, -30.0, 30.0, out=power)
    held = _Moments(x, e * np.exp(power, out=power))
    off, along = whole[0] - held.whole, whole[1] - held.first
    able = held.spread >= 1e-12
    first = _over(held.second * off - held.first * along, np.where(able, held.spread, 0.0))
    second = _over(held.whole * along - held.first * off, np.where(able, held.spread, 0.0))
    return np.stack([first, second]), able
