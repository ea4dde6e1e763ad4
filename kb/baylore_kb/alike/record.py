"""What of a case is compared, read once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from baylore_kb.tokens import fold
from baylore_kb.units import convert
from baylore_kb.values import Case, Reading, Vehicle
from baylore_kb.vehicle import name_key

# Two members write a visit down within so many days (common practice, no source).
DAYS_APART = 3
_NEVER = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Record:
    """A case with its days, counted from 1970, its odometer in km and its folded words.

    A case without a moment counts as of day 0.
    """

    case: Case
    opened: int
    closed: int | None
    km: float | None
    make: str
    model: str
    said: str

    @property
    def words(self) -> frozenset[str]:
        """The words of the complaint."""
        return frozenset(self.said.split())

    @property
    def car(self) -> Vehicle:
        """The car as written."""
        return self.case.complaint.vehicle

    @property
    def readings(self) -> tuple[Reading, ...]:
        """What was measured."""
        return self.case.complaint.readings


def record(case: Case) -> Record:
    """The case as it is compared."""
    car = case.complaint.vehicle
    said = " ".join(fold(case.complaint.text).replace(",", " ").replace(".", " ").split())
    return Record(
        case,
        opened=_day(case.opened) or 0,
        closed=_day(case.closed),
        km=car.odometer.value * _in_km(car.odometer.unit) if car.odometer else None,
        make=name_key(car.make),
        model=name_key(car.model),
        said=said,
    )


def days_between(one: Record, other: Record) -> int:
    """Days from one visit to the other: between their openings, or their closings where these are nearer."""
    apart = abs(one.opened - other.opened)
    if one.closed is None or other.closed is None:
        return apart
    return min(apart, abs(one.closed - other.closed))


def one_after_the_other(one: Record, other: Record) -> bool:
    """Whether one was closed on an earlier day than the other was opened."""
    first, second = sorted((one, other), key=lambda each: each.opened)
    return first.closed is not None and first.closed < second.opened


@lru_cache(maxsize=16)
def _in_km(unit: str) -> float:
    return convert(1.0, unit, to="km")


def _day(moment: datetime | None) -> int | None:
    return None if moment is None else (moment - _NEVER) // timedelta(days=1)
