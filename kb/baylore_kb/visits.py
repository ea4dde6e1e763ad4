"""Which cases are visits of one car, and how far it had run at each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from baylore_kb.errors import BayloreError
from baylore_kb.units import convert
from baylore_kb.values import Case

Visits = Mapping[str, Sequence[tuple[float, Case]]]


def visits_by_case(cases: Iterable[Case]) -> Visits:
    """For each case with an odometer, all visits of its car as (km, case), nearest first.

    One car is known by its VIN, or by a comeback that names the case it came back from.
    """
    by_id = {case.id: case for case in cases}
    cars: dict[str, list[tuple[float, Case]]] = defaultdict(list)
    for case in by_id.values():
        km = odometer_km(case)
        if km is not None:
            cars[_car(case, by_id)].append((km, case))
    nearest = [sorted(held, key=lambda visit: (visit[0], visit[1].id)) for held in cars.values()]
    return {case.id: held for held in nearest for _, case in held}


def _car(case: Case, by_id: Mapping[str, Case]) -> str:
    """A name for the case's car: a VIN anywhere along its comebacks, else the first visit's id."""
    seen: set[str] = set()
    at = case
    while at.complaint.vehicle.vin is None and at.comeback_of in by_id and at.id not in seen:
        seen.add(at.id)
        at = by_id[at.comeback_of or ""]
    return at.complaint.vehicle.vin or at.id


def odometer_km(case: Case) -> float | None:
    """The odometer in km; None where it was not written down or cannot be one."""
    measure = case.complaint.vehicle.odometer
    if measure is None:
        return None
    if measure.unit == "km":
        return measure.value
    try:
        return convert(measure.value, measure.unit, "kilometer")
    except BayloreError:
        return None
