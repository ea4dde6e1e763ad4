"""A key's cases month by month against what that month's traffic let expect."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.recurrence.change import Change, change_point
from baylore_kb.recurrence.trend import Trend, trend

# The car's own traffic is believed as much as the whole shop's when it had so many other cases.
TRUSTED_TRAFFIC = 30.0


@dataclass(frozen=True, slots=True)
class Monthly:
    """Counts and expected counts from month `start` on (twelve to a year from year 0), in step."""

    start: int
    counts: tuple[int, ...]
    expected: tuple[float, ...]

    @property
    def change(self) -> Change | None:
        """Where the rate changed; None under two months."""
        return change_point(self.counts, self.expected) if self.counts else None

    @property
    def trend(self) -> Trend | None:
        """How it rises, over the months with any traffic; None where too little is known."""
        months = [(n, e) for n, e in zip(self.counts, self.expected, strict=True) if e > 0]
        return trend([n for n, _ in months], [e for _, e in months])


def month_name(month: int) -> str:
    """A month as 2026-03."""
    return f"{month // 12:04d}-{month % 12 + 1:02d}"


def monthly(
    counts: Mapping[int, int], total: float, *, car: Mapping[int, int], shop: Mapping[int, int]
) -> Monthly:
    """The series of `counts`, with `total` expected shared out by traffic other than its own cases.

    `car` is the traffic of the same cars, `shop` that of all, both with the counts in them. Without any
    other traffic the months count alike. No months, an empty series.
    """
    if not shop:
        return Monthly(0, (), ())
    start, stop = min(shop), max(shop) + 1
    own, cars, every = (_array(each, start, stop) for each in (counts, car, shop))
    others, rest = cars - own, every - own
    trust = others.sum() / (others.sum() + TRUSTED_TRAFFIC)
    shares = trust * _shares(others) + (1.0 - trust) * _shares(rest)
    counted = tuple(int(each) for each in own)
    return Monthly(start, counted, tuple(float(each) for each in total * shares))


def _array(counts: Mapping[int, int], start: int, stop: int) -> np.ndarray:
    found = np.zeros(stop - start)
    for month, count in counts.items():
        found[month - start] = count
    return found


def _shares(traffic: np.ndarray) -> np.ndarray:
    total = traffic.sum()
    return traffic / total if total > 0 else np.full(len(traffic), 1.0 / len(traffic))
