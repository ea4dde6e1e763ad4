"""A key's cases month by month against what that month's traffic let expect."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.recurrence.cells import Key
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


class Traffic:
    """Cases by month of a whole shop and of its cars, as arrays from the first month on."""

    def __init__(self, shop: Mapping[int, int], cars: Mapping[Key, Mapping[int, int]]) -> None:
        self.start = min(shop, default=0)
        self.months = max(shop) + 1 - self.start if shop else 0
        self.shop = self.array(shop)
        self._by_car = cars
        self._cars: dict[Key, np.ndarray] = {}

    def car(self, key: Key) -> np.ndarray:
        """The months of a car's cases; of all where none is named."""
        if not key:
            return self.shop
        if key not in self._cars:
            self._cars[key] = self.array(self._by_car.get(key, {}))
        return self._cars[key]

    def array(self, counts: Mapping[int, int]) -> np.ndarray:
        """Counts by month as an array."""
        found = np.zeros(self.months)
        for month, count in counts.items():
            if count:
                found[month - self.start] = count
        return found


def monthly(counts: Mapping[int, int], total: float, traffic: Traffic, *, car: Key = ()) -> Monthly:
    """The series of `counts`, with `total` expected shared out by traffic other than its own cases.

    Without any other traffic the months count alike. No months, an empty series.
    """
    if not traffic.months:
        return Monthly(0, (), ())
    own = traffic.array(counts)
    others, rest = traffic.car(car) - own, traffic.shop - own
    trust = float(others.sum()) / (float(others.sum()) + TRUSTED_TRAFFIC)
    shares = trust * _shares(others) + (1.0 - trust) * _shares(rest)
    counted = tuple(int(each) for each in own.tolist())
    return Monthly(traffic.start, counted, tuple((total * shares).tolist()))


def _shares(traffic: np.ndarray) -> np.ndarray:
    total = traffic.sum()
    return np.asarray(traffic / total if total > 0 else np.full(len(traffic), 1.0 / len(traffic)))
