"""The sightings of one key, and what they have in common, worked out once until they change."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from math import fsum
from statistics import median, quantiles

from baylore_kb.recurrence.sightings import Sighting, age, utc

# A repair that did not come back for so long counts as cured at the first visit.
SETTLED = timedelta(days=30)
# Of very many cases the newest are named.
MOST_CASES = 200


@dataclass(frozen=True, slots=True)
class Facts:
    """What the sightings of a key have in common; medians None without any figure."""

    sample: Sighting
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


@dataclass(slots=True)
class Group:
    """The sightings of one key by case, and how often it came back on the same car."""

    held: dict[str, Sighting] = field(default_factory=dict)
    returns: int = 0
    _facts: Facts | None = None
    _months: Counter[int] | None = None

    def put(self, one: Sighting) -> None:
        """Count a sighting."""
        self.held[one.case.id] = one
        self._facts = self._months = None

    def drop(self, one: Sighting) -> None:
        """Count it no more."""
        del self.held[one.case.id]
        self._facts = self._months = None

    @property
    def months(self) -> Counter[int]:
        """How many there are of each month."""
        if self._months is None:
            self._months = Counter(one.month for one in self.held.values() if one.month is not None)
        return self._months

    @property
    def facts(self) -> Facts:
        """What they have in common; of at least one."""
        if self._facts is None:
            self._facts = _facts(sorted(self.held.values(), key=age))
        return self._facts


def _facts(held: Sequence[Sighting]) -> Facts:
    dates = [s.when for s in held if s.when is not None]
    years = [s.case.complaint.vehicle.year for s in held if s.case.complaint.vehicle.year]
    returned = sum(bool(s.case.returned_as) for s in held)
    return Facts(
        sample=held[0],
        first=min(dates, default=None),
        last=max(dates, default=None),
        years=(min(years), max(years)) if years else None,
        median_minutes=_median(s.case.labour.diagnosis_min + s.case.labour.repair_min for s in held),
        median_diagnosis=_median(s.case.labour.diagnosis_min for s in held),
        median_cost=_median(s.case.cost.total for s in held),
        total_cost=fsum(s.case.cost.total for s in held),
        odometer_km=_quartiles([s.odometer_km for s in held if s.odometer_km is not None]),
        cases=tuple(s.case.id for s in held[-MOST_CASES:]),
        came_back=returned,
        held_since=tuple(sorted(_closings(held))),
    )


def _closings(held: Iterable[Sighting]) -> Iterable[datetime]:
    for one in held:
        closed = utc(one.case.closed) or one.when
        if closed is not None and not one.case.returned_as:
            yield closed


def _median(values: Iterable[float]) -> float | None:
    known = [value for value in values if value > 0]
    return median(known) if known else None


def _quartiles(values: Sequence[float]) -> tuple[float, float, float] | None:
    if len(values) < 4:
        return None
    low, middle, high = quantiles(values, n=4, method="inclusive")
    return low, middle, high
