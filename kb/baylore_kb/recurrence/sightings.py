"""What a closed case says for counting: its model, system, component, cause and stratum."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from baylore_kb.trade.model import Trade
from baylore_kb.units import convert
from baylore_kb.values import Case

BY = ("model", "system", "component", "cause")
BAND_KM = 80_000.0


@dataclass(frozen=True, slots=True)
class Sighting:
    """A confirmed failure on one car; `names` lacks what is not known, `when` may be unknown."""

    case: Case
    names: Mapping[str, str]
    titles: Mapping[str, str]
    when: datetime | None
    odometer_km: float | None
    stratum: str


def sightings(cases: Iterable[Case], trade: Trade) -> list[Sighting]:
    """One sighting for each closed case with a cause, oldest first; the undated come first."""
    found = [_sighting(case, trade) for case in cases if case.state == "closed" and case.cause]
    return sorted(found, key=lambda s: (s.when is not None, s.when or _EPOCH, s.case.id))


_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def _sighting(case: Case, trade: Trade) -> Sighting:
    when = utc(case.opened or case.closed)
    odometer = _odometer_km(case)
    names, titles = _names(case, trade)
    return Sighting(case, names, titles, when, odometer, _stratum(odometer, when))


def utc(when: datetime | None) -> datetime | None:
    """`when` in UTC; a time without zone is taken as UTC."""
    if when is None:
        return None
    return when.replace(tzinfo=UTC) if when.tzinfo is None else when.astimezone(UTC)


def _odometer_km(case: Case) -> float | None:
    odometer = case.complaint.vehicle.odometer
    return convert(odometer.value, odometer.unit, "kilometer", field="vehicle.odometer") if odometer else None


def _stratum(odometer_km: float | None, when: datetime | None) -> str:
    band = "odometer unknown" if odometer_km is None else f"{int(min(odometer_km, 400_000.0) // BAND_KM)}"
    return f"{band}/{when.year if when else 'undated'}"


def _names(case: Case, trade: Trade) -> tuple[dict[str, str], dict[str, str]]:
    found = _ids(case, trade)
    known = {name: value for name, value in found.items() if value}
    return known, {name: _title(name, value, case, trade) for name, value in known.items()}


def _ids(case: Case, trade: Trade) -> dict[str, str]:
    vehicle, cause = case.complaint.vehicle, trade.causes.get(case.cause or "")
    repaired = (case.correction.component if case.correction else None) or ""
    component = cause.component if cause else repaired
    return {
        "model": f"{vehicle.make} {vehicle.model}".strip() if vehicle.model else "",
        "system": cause.system if cause else (case.cause_system or component.split(".")[0]),
        "component": component,
        "cause": case.cause or "",
    }


def _title(name: str, value: str, case: Case, trade: Trade) -> str:
    if name == "system" and value in trade.systems:
        return trade.systems[value].title
    if name == "component" and value in trade.components:
        return trade.components[value].title
    if name == "cause":
        return trade.causes[value].title if value in trade.causes else case.cause_title or value
    return value
