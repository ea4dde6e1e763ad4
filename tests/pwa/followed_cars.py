"""Cars that came more than once, as lines of an import: what a life curve needs, which few shops have."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any
from uuid import UUID

CARS = 36
MAKE, MODEL = "Kessby", "Tuck"
PUMP, OTHER = "cooling.water_pump.leaking", "charging.battery.weak"
COMPONENT = "cooling.water_pump"
BEGIN = datetime(2019, 3, 4, 9, tzinfo=UTC)
_WEARS = 2.8
_MIDDLE_KM = 150_000.0


def followed_cars() -> Iterator[dict[str, Any]]:
    """Two visits of each car: the second for its pump where that had failed by then, else for another thing.

    Pumps fail as a part that wears does; a car whose pump failed before its first visit is not there.
    """
    luck = Random(11)
    car = 0
    while car < CARS:
        first = luck.uniform(40_000, 130_000)
        fails = luck.weibullvariate(_MIDDLE_KM, _WEARS)
        if fails < first + 1000:
            continue
        later = first + luck.uniform(15_000, 90_000)
        yield _visit(car, 0, km=first, cause=OTHER)
        yield _visit(car, 1, km=min(fails, later), cause=PUMP if fails < later else OTHER)
        car += 1


def _visit(car: int, visit: int, *, km: float, cause: str) -> dict[str, Any]:
    """A closed case of a car told by its number."""
    when = (BEGIN + timedelta(days=17 * car + 400 * visit)).isoformat()
    return {
        "kind": "case",
        "id": str(UUID(int=(car << 8) + visit + 1, version=4)),
        "complaint": "runs hot and loses coolant" if cause == PUMP else "slow to crank in the morning",
        "vehicle": {
            "make": MAKE,
            "model": MODEL,
            "year": 2014,
            "vin": f"ZZZTUCK00E0{car:06d}",
            "odometer": {"value": round(km), "unit": "km"},
        },
        "state": "closed",
        "cause": cause,
        "opened": when,
        "closed": when,
        "updated": when,
    }
