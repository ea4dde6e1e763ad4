"""What a closed case says for counting: its car, its failure, its season and its stratum."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_kb.visits import odometer_km

CAR = ("make", "model", "year", "engine", "season", "odometer")
FAILURE = ("system", "component", "cause")
BY = (*CAR, *FAILURE)
BAND_KM = 80_000.0
_TOP_BAND = 5
_SEASONS = ("Dec-Feb", "Mar-May", "Jun-Aug", "Sep-Nov")


@dataclass(frozen=True, slots=True)
class Sighting:
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
    return one.when is not None, one.when or _EPOCH, one.case.id


_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def sighting(case: Case, trade: Trade) -> Sighting:
    """What a closed case with a cause says for counting."""
    when = utc(case.opened or case.closed)
    odometer = odometer_km(case)
    band = -1 if odometer is None else band_of(odometer)
    month = when.year * 12 + when.month - 1 if when else None
    stratum = band, when.year if when else 0
    return Sighting(case, _names(case, trade, when, band), when, month, odometer, stratum)


def utc(when: datetime | None) -> datetime | None:
    """`when` in UTC; a time without zone is taken as UTC."""
    if when is None or when.tzinfo is UTC:
        return when
    return when.replace(tzinfo=UTC) if when.tzinfo is None else when.astimezone(UTC)


def band_of(km: float) -> int:
    """The odometer band, 0 for under 80,000 km, the last open to the top."""
    return max(0, min(int(km // BAND_KM), _TOP_BAND))


def band_name(band: int) -> str:
    """An odometer band in thousands of km; empty for -1, not known."""
    if band < 0:
        return ""
    low = int(band * BAND_KM / 1000)
    return f"{low}+" if band == _TOP_BAND else f"{low}-{low + int(BAND_KM / 1000)}"


def _names(case: Case, trade: Trade, when: datetime | None, band: int) -> dict[str, str]:
    vehicle, cause = case.complaint.vehicle, trade.causes.get(case.cause or "")
    repaired = (case.correction.component if case.correction else None) or ""
    component = cause.component if cause else repaired
    found = {
        "make": vehicle.make,
        "model": f"{vehicle.make} {vehicle.model}".strip() if vehicle.model else "",
        "year": str(vehicle.year or ""),
        "engine": vehicle.engine,
        "season": _SEASONS[when.month % 12 // 3] if when else "",
        "odometer": band_name(band),
        "system": cause.system if cause else (case.cause_system or component.split(".")[0]),
        "component": component,
        "cause": case.cause or "",
    }
    return {name: value for name, value in found.items() if value}


def title_of(name: str, one: Sighting, trade: Trade) -> str:
    """The words for a name of a sighting."""
    value = one.names[name]
    if name == "system" and value in trade.systems:
        return trade.systems[value].title
    if name == "component" and value in trade.components:
        return trade.components[value].title
    if name == "cause":
        return trade.causes[value].title if value in trade.causes else one.case.cause_title or value
    return f"{value} thousand km" if name == "odometer" else value
