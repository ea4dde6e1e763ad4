"""A key's cases month by month against what that month's traffic let expect."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.recurrence.change import Change, change_point
from baylore_kb.recurrence.pieces import pieces
from baylore_kb.recurrence.traffic import Traffic
from baylore_kb.recurrence.trend import Trend, trends

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


@dataclass(frozen=True, slots=True)
class Months:
    """The months of many keys from month `start` on: counts and expected counts, one row a key."""

    start: int
    counts: np.ndarray
    expected: np.ndarray

    def one(self, row: int) -> Monthly:
        """The months of one key."""
        return Monthly(self.start, tuple(self.counts[row].tolist()), tuple(self.expected[row].tolist()))

    def trends(self) -> list[Trend | None]:
        """How each rises, over the months with any traffic; None where too little is known."""
        return trends(self.counts, self.expected)


def month_name(month: int) -> str:
    """A month as 2026-03."""
    return f"{month // 12:04d}-{month % 12 + 1:02d}"


def monthly(own: np.ndarray, cars: np.ndarray, traffic: Traffic, *, hoped: np.ndarray) -> Months:
    """The months of keys, with what was `hoped` of each shared out by traffic other than its own cases.

    `own` are its cases by month, `cars` those of its cars. Without any other traffic the months count alike.
    """
    expected, shop = np.empty(own.shape), traffic.shop
    for at in pieces(len(own)):
        expected[at] = hoped[at, None] * _shares(own[at], cars[at], shop)
    return Months(traffic.start, own, expected)


def _shares(own: np.ndarray, car: np.ndarray, shop: np.ndarray) -> np.ndarray:
    """What share of each row's own cases each month lets expect, by the other traffic of car and shop."""
    others = car - own
    seen = others.sum(axis=1, keepdims=True)
    trust = seen / (seen + TRUSTED_TRAFFIC)
    return np.asarray(trust * _even(others) + (1.0 - trust) * _even(shop - own))


def _even(traffic: np.ndarray) -> np.ndarray:
    """Each month's share of a row; where there is no traffic, each month has as much."""
    total = traffic.sum(axis=1, keepdims=True)
    if total.all():
        return np.asarray(traffic / total)
    return np.asarray((traffic + (total == 0)) / np.where(total == 0, traffic.shape[1], total))
