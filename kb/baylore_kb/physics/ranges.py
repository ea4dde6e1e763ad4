"""Refuse values outside the range a formula holds for, and straight lines between points."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from baylore_kb.errors import OutOfRange

ABSOLUTE_ZERO_C = -273.15


def within(what: str, value: float, unit: str, *, low: float, high: float) -> float:
    """`value` itself when low <= value <= high; raises OutOfRange naming it otherwise (NaN too)."""
    if low <= value <= high:
        return value
    raise OutOfRange(what, value, low=low, high=high, unit=unit)


def straight(points: Sequence[tuple[float, float]], x: float) -> float:
    """The value at `x` on straight lines between `points` (x rising); the end values beyond them.

    One point gives its own value; no points raise IndexError.
    """
    if x <= points[0][0]:
        return points[0][1]
    at = bisect_right(points, x, key=lambda point: point[0])
    if at == len(points):
        return points[-1][1]
    (x0, y0), (x1, y1) = points[at - 1], points[at]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
