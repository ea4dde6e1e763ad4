"""What the cases of one key have in common, kept in order so that one more or less costs little."""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right, insort
from collections.abc import Iterable
from datetime import datetime, timedelta
from math import fsum
from typing import NamedTuple

from baylore_kb.recurrence.sightings import EPOCH, utc
from baylore_kb.values import Case
from baylore_kb.visits import odometer_km

# A repair that did not come back for so long counts as cured at the first visit.
SETTLED = timedelta(days=30)
# Of very many cases the newest are named.
MOST_CASES = 200


class Facts(NamedTuple):
    """What the sightings of a key have in common; medians None without any figure.

    `held_since` are the seconds since 1970 at which those closed that stayed cured, in order.
    """

    sample: Case
    first: datetime | None
    last: datetime | None
    years: tuple[int, int] | None
    median_minutes: float | None
    median_diagnosis: float | None
    median_cost: float | None
    total_cost: float
    odometer_km: tuple[float, float, float] | None
    cases: tuple[str, ...]
    came_back: int
    held_since: array[float]


class Tally:
    """Cases by age, at first one at least, their figures in order, and when those still cured closed."""

    def __init__(self, cases: Iterable[Case]) -> None:
        self._cases = sorted(cases, key=_age)
        columns = zip(*map(_figures, self._cases), strict=True)
        self._figures = [array("d", sorted(_known(column))) for column in columns]
        self._returned = sum(bool(case.returned_as) for case in self._cases)
        self._closings = array("d", sorted(_known(map(_closing, self._cases))))

    def put(self, case: Case) -> None:
        """Count one more."""
        insort(self._cases, case, key=_age)
        self._returned += bool(case.returned_as)
        for held, value in self._places(case):
            insort(held, value)

    def drop(self, case: Case) -> None:
        """Count one less, that is there."""
        del self._cases[bisect_left(self._cases, _age(case), key=_age)]
        self._returned -= bool(case.returned_as)
        for held, value in self._places(case):
            del held[bisect_left(held, value)]

    def _places(self, case: Case) -> Iterable[tuple[array[float], float]]:
        """Where each known figure of a case belongs."""
        figures = zip((*self._figures, self._closings), (*_figures(case), _closing(case)), strict=True)
        return ((held, value) for held, value in figures if value is not None)

    def facts(self) -> Facts:
        """What they have in common; of one at least."""
        years, minutes, diagnosis, costs, kms = self._figures
        dated = bisect_left(self._cases, True, key=lambda case: _age(case)[0])
        known = dated < len(self._cases)
        return Facts(
            sample=self._cases[0],
            first=_when(self._cases[dated]) if known else None,
            last=_when(self._cases[-1]) if known else None,
            years=(int(years[0]), int(years[-1])) if years else None,
            median_minutes=_median(minutes),
            median_diagnosis=_median(diagnosis),
            median_cost=_median(costs),
            total_cost=fsum(costs),
            odometer_km=_quartiles(kms),
            cases=tuple(case.id for case in self._cases[-MOST_CASES:]),
            came_back=self._returned,
            held_since=self._closings[:],
        )


def _when(case: Case) -> datetime | None:
    return utc(case.opened or case.closed)


def _age(case: Case) -> tuple[bool, datetime, str]:
    when = _when(case)
    return when is not None, when or EPOCH, case.id


def _figures(case: Case) -> tuple[float | None, ...]:
    """Model year, minutes, those of the diagnosis, cost and odometer; None where not known."""
    labour = case.labour
    minutes = labour.diagnosis_min + labour.repair_min
    year = case.complaint.vehicle.year or None
    return year, minutes, labour.diagnosis_min, case.cost.total, odometer_km(case)


def _known(values: Iterable[float | None]) -> Iterable[float]:
    return (value for value in values if value is not None)


def _closing(case: Case) -> float | None:
    """The second since when it has stayed cured; None for what came back or has no time."""
    closed = utc(case.closed or case.opened)
    if closed is None or case.returned_as:
        return None
    # One that was asked after and cured is settled whenever it was closed.
    return 0.0 if case.followed == "cured" else closed.timestamp()


def _median(ordered: array[float]) -> float | None:
    """The middle of what is over 0."""
    first = bisect_right(ordered, 0.0)
    known = len(ordered) - first
    if not known:
        return None
    middle = first + known // 2
    return ordered[middle] if known % 2 else (ordered[middle - 1] + ordered[middle]) / 2


def _quartiles(ordered: array[float]) -> tuple[float, float, float] | None:
    if len(ordered) < 4:
        return None
    return _between(ordered, 1), _between(ordered, 2), _between(ordered, 3)


def _between(ordered: array[float], quarters: int) -> float:
    """The value so many quarters of the way from the first to the last."""
    at, past = divmod(quarters * (len(ordered) - 1), 4)
    return (ordered[at] * (4 - past) + ordered[at + 1] * past) / 4
