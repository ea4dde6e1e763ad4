"""Invented past cases: a cooling fault that keeps coming on one model, and a mixed rest."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

COLD_THEN_WARM = "ac cold at first then warm after 20 min"

# complaint, make, model, year, cause, what was done
KINDS: tuple[tuple[str, str, str, int, str, str], ...] = (
    (COLD_THEN_WARM, "Tarrow", "Linnet", 2011, "aircon.clutch.worn", "clutch gap set with shims"),
    ("ac not cold at all", "Ondrey", "Pike", 2010, "aircon.condenser.leaking", "condenser and drier"),
    ("one click, no crank", "Kessby", "Tuck", 2008, "starting.starter.worn", "starter"),
    ("battery flat after two days", "Kessby", "Tuck", 2016, "charging.battery.weak", "battery"),
    ("takes ten minutes to fill", "Tarrow", "Linnet", 2012, "emissions.vent.stuck_closed", "vent valve"),
    ("overheats on long hills", "Ondrey", "Pike", 2004, "cooling.radiator.blocked", "radiator"),
)
OFTEN = ("overheats in traffic, fan dead", "Vostrel", "Harrow", 2012, "cooling.fan_module.open", "fan module")
OFTEN_TIMES = 12
FIRST_DAY = datetime(2025, 3, 3, 9, 0, tzinfo=UTC)


def past_cases() -> Iterator[dict[str, Any]]:
    """Closed cases as lines of an import, a few days apart."""
    kinds = [*KINDS, *KINDS, *KINDS, *[OFTEN] * OFTEN_TIMES]
    for place, kind in enumerate(kinds):
        yield closed_case(place, kind)


def closed_case(place: int, kind: tuple[str, str, str, int, str, str]) -> dict[str, Any]:
    """One case, closed two hours after it was opened."""
    complaint, make, model, year, cause, done = kind
    opened = FIRST_DAY + timedelta(days=9 * place)
    return {
        "kind": "case",
        "id": str(UUID(int=(4 << 76) | (2 << 62) | (place + 1))),
        "state": "closed",
        "title": "",
        "opened": stamp(opened),
        "closed": stamp(opened + timedelta(hours=2)),
        "complaint": complaint,
        "vehicle": {"year": year, "make": make, "model": model, "odometer": {"value": 150_000, "unit": "km"}},
        "parts": [part(cause, place)],
        "cause": cause,
        "correction": {"action": "replace", "component": cause.rpartition(".")[0], "text": done},
        "verification": "same drive, same heat",
        "verified": True,
        "labour": {"diagnosis_min": 30, "repair_min": 50, "not_billed_min": 0, "rate_per_hour": 95},
    }


def part(cause: str, place: int) -> dict[str, Any]:
    """The part fitted: every third an aftermarket one that cured only partly."""
    copy = place % 3 == 2
    return {
        "component": cause.rpartition(".")[0],
        "source": "aftermarket" if copy else "maker",
        "price": 24 if copy else 118,
        "result": "partly" if copy else "cured",
    }


def stamp(moment: datetime) -> str:
    """RFC 3339 in UTC."""
    return moment.strftime("%Y-%m-%dT%H:%M:%SZ")
