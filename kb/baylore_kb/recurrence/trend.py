"""Whether counts rise against their expectation from period to period."""

from __future__ import annotations

import math
from collections.abc import Sequence
from copy import copy

import numpy as np
from msgspec import Struct
from scipy.special import ndtr

from baylore_kb.recurrence.pieces import pieces

ENOUGH_PERIODS = 6
ENOUGH_EVENTS = 15
_STEPS = 60
_SURE = 0.05
_NEAR = 1e-7
# Rates beyond e to this are as good as none or endless.
_FAR = 30.0


class Trend(Struct, frozen=True, gc=False):
    """Counts grow by `per_period` each period: e to the slope; `p` two-sided chance of it by luck."""

    intercept: float
    slope: float
    error: float
    p: float

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
    y = counts if seen.all() else np.where(seen, counts, 0)
    able = np.flatnonzero((seen.sum(axis=1) >= ENOUGH_PERIODS) & (y.sum(axis=1) >= ENOUGH_EVENTS))
    if len(able) == len(counts):
        return _trends(y, expected)
    found: list[Trend | None] = [None] * len(counts)
    for at, one in zip(able.tolist(), _trends(y[able], expected[able]), strict=True):
        found[at] = one
    return found


def _trends(y: np.ndarray, e: np.ndarray) -> list[Trend | None]:
    """One trend a row; None where Newton's steps do not settle."""
    rates = _Rates(e)
    settled, intercept, slope = _tops(rates, y)
    held = rates.moments(intercept, slope)
    error = np.sqrt(_over(held.whole, held.spread))
    p = 2.0 * ndtr(-np.abs(_over(slope, error)))
    found: list[Trend | None] = list(map(Trend, *(each.tolist() for each in (intercept, slope, error, p))))
    for at in np.flatnonzero(~settled).tolist():
        found[at] = None
    return found


def _over(value: np.ndarray, by: np.ndarray) -> np.ndarray:
    """The quotient; what is divided by nothing is not looked at."""
    return np.asarray(np.divide(value, by, out=np.zeros_like(value), where=by > 0.0))


class _Moments:
    """Sums over each row's fitted counts: `whole`, and by the first two powers of the period."""

    def __init__(self, sums: np.ndarray) -> None:
        self.whole, self.first, self.second = sums
        # The determinant of the information about intercept and slope.
        self.spread = self.whole * self.second - self.first**2


class _Rates:
    """Rows of expected counts times rates that rise from period to period; no row feels the others.

    Periods that nothing was expected of are passed over.
    """

    def __init__(self, e: np.ndarray) -> None:
        self._e, seen = e, e > 0.0
        # Counted from 0: for each row, or for all where none is passed over.
        self._x = np.arange(e.shape[1], dtype=float) if seen.all() else np.cumsum(seen, axis=1) - 1.0

    def of(self, rows: np.ndarray) -> _Rates:
        """Some of the rows."""
        found = copy(self)
        found._e, found._x = self._e[rows], self._periods(rows)
        return found

    def _periods(self, rows: np.ndarray | slice) -> np.ndarray:
        return self._x if self._x.ndim == 1 else self._x[rows]

    def along(self, counts: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Sums over each row of counts in step, plain and by period."""
        return counts.sum(axis=1), (counts * self._x).sum(axis=1)

    def level(self, whole: np.ndarray) -> np.ndarray:
        """The log of the one rate of each row that gives its whole."""
        return np.asarray(np.log(whole / self._e.sum(axis=1)))

    def moments(self, intercept: np.ndarray, slope: np.ndarray) -> _Moments:
        """The sums with these logs of rates."""
        sums = np.empty((3, len(self._e)))
        for at in pieces(len(self._e)):
            x = self._periods(at)
            fitted = self._e[at] * _rates(x, intercept[at], slope[at])
            sums[0, at] = fitted.sum(axis=1)
            fitted *= x
            sums[1, at] = fitted.sum(axis=1)
            fitted *= x
            sums[2, at] = fitted.sum(axis=1)
        return _Moments(sums)


def _rates(x: np.ndarray, intercept: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """The rates of each row, within bounds; one figure where none rises yet."""
    if not slope.any():
        return np.asarray(np.exp(np.clip(intercept, -_FAR, _FAR))[:, None])
    power = slope[:, None] * x
    power += intercept[:, None]
    if np.abs(intercept).max() + np.abs(slope).max() * x.max() > _FAR:
        np.clip(power, -_FAR, _FAR, out=power)
    return np.asarray(np.exp(power, out=power))


def _tops(rates: _Rates, y: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Whether each row's steps settled, and its likeliest intercept and slope."""
    settled = np.zeros(len(y), dtype=bool)
    whole = np.stack(rates.along(y))
    line = np.stack([rates.level(whole[0]), np.zeros(len(y))])
    going = np.arange(len(y))
    for _ in range(_STEPS):
        if not len(going):
            break
        step, able = _step(rates, line[:, going], whole[:, going])
        far = np.abs(step).max(axis=0, initial=0.0)
        line[:, going[able]] += (step * np.minimum(1.0, 2.0 / np.maximum(far, 1e-300)))[:, able]
        # The next step would be about the square of this one.
        settled[going] = able & (far < _NEAR)
        left = np.flatnonzero(able & (far >= _NEAR))
        if len(left) < len(going):
            going, rates = going[left], rates.of(left)
    return settled, line[0], line[1]


def _step(rates: _Rates, line: np.ndarray, whole: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Newton's step of intercept and slope for each row, and whether there is one."""
    held = rates.moments(*line)
    off, along = whole[0] - held.whole, whole[1] - held.first
    able = held.spread >= 1e-12
    by = np.where(able, held.spread, 0.0)
    first = _over(held.second * off - held.first * along, by)
    second = _over(held.whole * along - held.first * off, by)
    return np.stack([first, second]), able
