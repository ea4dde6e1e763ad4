"""Faults that come again on the same car: the mean number of repairs per car by distance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Watched:
    """One car: where it was repaired (each up to `until`), and how far it was seen."""

    events: tuple[float, ...]
    until: float


@dataclass(frozen=True, slots=True)
class Repairs:
    """At `at`, `events` repairs on the `at_risk` cars still seen; `mean` repairs per car so far."""

    at: float
    at_risk: int
    events: int
    mean: float


def mean_repairs(cars: Sequence[Watched]) -> tuple[Repairs, ...]:
    """The mean cumulative number of repairs per car; empty without events. Source: Nelson 2003."""
    found: list[Repairs] = []
    mean = 0.0
    for at in sorted({event for car in cars for event in car.events}):
        at_risk = sum(car.until >= at for car in cars)
        events = sum(car.events.count(at) for car in cars)
        mean += events / at_risk
        found.append(Repairs(at, at_risk, events, mean))
    return tuple(found)
