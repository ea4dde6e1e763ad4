"""What a closed case says for counting: its car, its failure, its season and its stratum."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import NamedTuple

from baylore_kb.casedoc import system_title
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_kb.visits import odometer_km

CAR = ("make", "model", "year", "engine", "season", "odometer")
FAILURE = ("system", "component", "cause")
BY = (*CAR, *FAILURE)
BAND_KM = 80_000.0
TOP_BAND = 5
_SEASONS = ("Dec-Feb", "Mar-May", "Jun-Aug", "Sep-Nov")


class Sighting(NamedTuple):
    """A confirmed failure on one car; `names` lacks what is not known, `when` may be unknown.

    `month` counts from year 0, twelve to a year.
    """

    case: Case
    names: Mapping[str, str]
    when: datetime | None
    month: int | None
    odometer_km: float | None
    stratum: tuple[int, int]


def sightings(cases: Iterable[Case], trade: Trade) -> list[Sighting]:
    """One sighting for each closed case with a cause, oldest first; the undated come first."""
    found = [sighting(case, trade) for case in cases if counts(case)]
    return sorted(found, key=age)


def counts(case: Case) -> bool:
    """Whether a case is a confirmed failure."""
    return case.state == "closed" and bool(case.cause)


def age(one: Sighting) -> tuple[bool, datetime, str]:
    """What sightings are put in order by: the undated first, then the oldest."""
    return one.when is not None, one.when or EPOCH, one.case.id


EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def sighting(case: Case, trade: Trade, only: Sequence[str] = BY) -> Sighting:
    """What a closed case with a cause says for counting, with `only` these names of it."""
    when = utc(case.opened or case.closed)
    odometer = odometer_km(case)
    band = -1 if odometer is None else band_of(odometer)
    if when is None:
        return Sighting(case, _names(case, trade, only, (None, band)), None, None, odometer, (band, 0))
    year, month = when.year, when.month
    names = _names(case, trade, only, (month, band))
    return Sighting(case, names, when, year * 12 + month - 1, odometer, (band, year))


def utc(when: datetime | None) -> datetime | None:
    """`when` in UTC; a time without zone is taken as UTC."""
    if when is None or when.tzinfo is UTC:
        return when
    return when.replace(tzinfo=UTC) if when.tzinfo is None else when.astimezone(UTC)


def band_of(km: float) -> int:
    """The odometer band, 0 for under 80,000 km, the last open to the top."""
    return max(0, min(int(km // BAND_KM), TOP_BAND))


def band_name(band: int) -> str:
    """An odometer band in thousands of km; empty for -1, not known."""
    if band < 0:
        return ""
    low = int(band * BAND_KM / 1000)
    return f"{low}+" if band == TOP_BAND else f"{low}-{low + int(BAND_KM / 1000)}"


_Read = Callable[[Case, Trade, tuple[int | None, int]], str]


def _names(case: Case, trade: Trade, only: Sequence[str], place: tuple[int | None, int]) -> dict[str, str]:
    """The names that are known; `place` is month of the year and odometer band."""
    return {name: value for name in only if (value := _READ[name](case, trade, place))}


def name_of(name: str, case: Case, trade: Trade, *, month: int, band: int) -> str:
    """One name; empty where it is not known. `month` counts from year 0, -1 for none, `band` -1 for none."""
    return _READ[name](case, trade, (None if month < 0 else month % 12 + 1, band))


def _model(case: Case, trade: Trade, place: tuple[int | None, int]) -> str:
    vehicle = case.complaint.vehicle
    return f"{vehicle.make} {vehicle.model}" if vehicle.make and vehicle.model else vehicle.model


def _season(case: Case, trade: Trade, place: tuple[int | None, int]) -> str:
    return "" if place[0] is None else _SEASONS[place[0] % 12 // 3]


def _component(case: Case, trade: Trade, place: tuple[int | None, int]) -> str:
    cause = trade.causes.get(case.cause or "")
    return cause.component if cause else (case.correction.component if case.correction else None) or ""


def _system(case: Case, trade: Trade, place: tuple[int | None, int]) -> str:
    cause = trade.causes.get(case.cause or "")
    return cause.system if cause else case.cause_system or _component(case, trade, place).split(".")[0]


_READ: Mapping[str, _Read] = {
    "make": lambda case, trade, place: case.complaint.vehicle.make,
    "model": _model,
    "year": lambda case, trade, place: str(case.complaint.vehicle.year or ""),
    "engine": lambda case, trade, place: case.complaint.vehicle.engine,
    "season": _season,
    "odometer": lambda case, trade, place: band_name(place[1]),
    "system": _system,
    "component": _component,
    "cause": lambda case, trade, place: case.cause or "",
}


def title_of(name: str, value: str, case: Case, trade: Trade) -> str:
    """The words for a name that a case has."""
    if name == "system":
        return system_title(value, trade)
    if name == "component" and value in trade.components:
        return trade.components[value].title
    if name == "cause":
        return trade.causes[value].title if value in trade.causes else case.cause_title or value
    return f"{value} thousand km" if name == "odometer" else value
