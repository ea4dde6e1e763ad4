"""The sightings of one key, and what they have in common, worked out once until they change."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import fsum
from statistics import median, quantiles

import numpy as np

from baylore_kb.recurrence.sightings import EPOCH, utc
from baylore_kb.values import Case
from baylore_kb.visits import odometer_km

# A repair that did not come back for so long counts as cured at the first visit.
SETTLED = timedelta(days=30)
# Of very many cases the newest are named.
MOST_CASES = 200


@dataclass(frozen=True, slots=True)
class Facts:
    """What the sightings of a key have in common; medians None without any figure."""

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
    held_since: tuple[datetime, ...]

    def cured_at_first(self, now: datetime | None) -> tuple[int, int]:
        """How many stayed cured, of those that can be judged at `now`; all that did not return without it."""
        until = now - SETTLED if now else None
        held = len(self.held_since) if until is None else bisect_right(self.held_since, until)
        return held, held + self.came_back


class Group:
    """The cases of one key, and how often it came back on the same car.

    Cases that were taken all at once are looked at one by one only when something of them is asked for.
    """

    __slots__ = ("_facts", "_first", "_first_months", "_held", "_months", "_row", "_title", "returns")

    def __init__(self, first: Sequence[Case] = (), months: np.ndarray | None = None) -> None:
        """Start with many cases and, in step, their months; -1 for one without."""
        self._first, self._first_months = first, months
        self._held: dict[str, Case] | None = None
        self.returns = 0
        self._facts: Facts | None = None
        self._months: Counter[int] | None = None
        self._row: tuple[int, np.ndarray] | None = None
        self._title: str | None = None

    @property
    def count(self) -> int:
        """How many cases there are."""
        return len(self._first) if self._held is None else len(self._held)

    @property
    def held(self) -> dict[str, Case]:
        """The cases by id."""
        if self._held is None:
            self._held = {case.id: case for case in self._first}
            self._first = ()
        return self._held

    def put(self, case: Case, month: int | None) -> None:
        """Count a case that is not there yet."""
        months, held = self.months, self.held
        held[case.id] = case
        self._forget()
        if month is not None:
            months[month] += 1

    def drop(self, case: Case, month: int | None) -> None:
        """Count it no more."""
        months, held = self.months, self.held
        del held[case.id]
        self._forget()
        if month is not None:
            months[month] -= 1

    @property
    def months(self) -> Counter[int]:
        """How many there are of each month."""
        if self._months is None:
            known = () if self._first_months is None else self._first_months.tolist()
            self._months = Counter(month for month in known if month >= 0)
            self._first_months = None
        return self._months

    def _forget(self) -> None:
        """What was worked out before a change is not so any more."""
        self._facts = self._row = self._title = None

    def by_month(self, start: int, count: int) -> np.ndarray:
        """How many there are of each of `count` months from `start` on; none lies outside."""
        if self._row is None or self._row[0] != start or len(self._row[1]) != count:
            found = np.zeros(count, dtype=np.int64)
            for month, held in self.months.items():
                if held:
                    found[month - start] = held
            self._row = start, found
        return self._row[1]

    def title(self, write: Callable[[Case], str]) -> str:
        """The words for the key, written from one of its cases once until they change."""
        if self._title is None:
            self._title = write(self.facts.sample)
        return self._title

    @property
    def facts(self) -> Facts:
        """What they have in common; of at least one."""
        if self._facts is None:
            held = [(utc(case.opened or case.closed), case) for case in self.held.values()]
            self._facts = _facts([case for _, case in sorted(held, key=_age)])
        return self._facts


def _age(dated: tuple[datetime | None, Case]) -> tuple[bool, datetime, str]:
    return dated[0] is not None, dated[0] or EPOCH, dated[1].id


def _facts(held: Sequence[Case]) -> Facts:
    dates = [when for case in held if (when := utc(case.opened or case.closed)) is not None]
    years = [year for case in held if (year := case.complaint.vehicle.year)]
    kms = [km for case in held if (km := odometer_km(case)) is not None]
    returned = sum(bool(case.returned_as) for case in held)
    return Facts(
        sample=held[0],
        first=dates[0] if dates else None,
        last=dates[-1] if dates else None,
        years=(min(years), max(years)) if years else None,
        median_minutes=_median(case.labour.diagnosis_min + case.labour.repair_min for case in held),
        median_diagnosis=_median(case.labour.diagnosis_min for case in held),
        median_cost=_median(case.cost.total for case in held),
        total_cost=fsum(case.cost.total for case in held),
        odometer_km=_quartiles(kms),
        cases=tuple(case.id for case in held[-MOST_CASES:]),
        came_back=returned,
        held_since=tuple(sorted(_closings(held))),
    )


def _closings(held: Iterable[Case]) -> Iterable[datetime]:
    for case in held:
        closed = utc(case.closed or case.opened)
        if closed is not None and not case.returned_as:
            # One that was asked after and cured is settled whenever it was closed.
            yield EPOCH if case.followed == "cured" else closed


def _median(values: Iterable[float]) -> float | None:
    known = [value for value in values if value > 0]
    return median(known) if known else None


def _quartiles(values: Sequence[float]) -> tuple[float, float, float] | None:
    if len(values) < 4:
        return None
    low, middle, high = quantiles(values, n=4, method="inclusive")
    return low, middle, high
