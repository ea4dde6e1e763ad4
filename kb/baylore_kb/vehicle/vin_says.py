"""What a vehicle's VIN says beside what was typed: it fills what is empty and never overrides."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from baylore_kb.values import Vehicle
from baylore_kb.vehicle.names import same_make
from baylore_kb.vin import VinRead, read_vin


@dataclass(frozen=True, slots=True)
class VinSays:
    """Year and maker by the VIN, None and "" where it does not tell; `year_note` says how sure the year is.

    `against` are the disagreements with what was typed, in words.
    """

    year: int | None
    maker: str
    year_note: str = ""
    against: tuple[str, ...] = ()


def filled_by_vin(vehicle: Vehicle, *, this_year: int | None = None, field: str = "vehicle.vin") -> Vehicle:
    """The vehicle with its VIN in its own form, and with year and make from it where they are empty.

    `from_vin` then names the fields that came from it; a mark that the VIN does not bear out is taken off. A
    year is only filled in where the number follows the rules that fix its place; the maker is filled in as
    the make, which may be another brand of the same house. Years after `this_year` + 1 cannot be. Raises
    MalformedVin, naming `field`.
    """
    if not vehicle.vin:
        return replace(vehicle, vin=None, from_vin=frozenset()) if vehicle.from_vin else vehicle
    read = read_vin(vehicle.vin, field=field, this_year=this_year)
    told: dict[str, Any] = {"year": read.year if read.check_ok else None, "make": read.maker}
    empty = {name: value for name, value in told.items() if value and not getattr(vehicle, name)}
    full = replace(vehicle, vin=read.vin, **empty)
    marked = {name for name in vehicle.from_vin if told.get(name) and getattr(full, name) == told[name]}
    return replace(full, from_vin=frozenset(marked | set(empty)))


def without_old_vin(before: Vehicle, after: Vehicle) -> Vehicle:
    """A changed vehicle without what only the VIN it had before filled in; the same VIN changes nothing."""
    if after.vin == before.vin:
        return after
    stale = {name for name in before.from_vin if getattr(after, name) == getattr(before, name)}
    empty: dict[str, Any] = {name: getattr(Vehicle(), name) for name in stale}
    return replace(after, **empty, from_vin=after.from_vin - stale)


def vin_says(vehicle: Vehicle, *, this_year: int | None = None) -> VinSays | None:
    """What the VIN tells of the vehicle and where that disagrees with it; None without a VIN.

    Raises MalformedVin.
    """
    if not vehicle.vin:
        return None
    read = read_vin(vehicle.vin, this_year=this_year)
    return VinSays(read.year, read.maker, _year_note(read), tuple(filter(None, _against(vehicle, read))))


def _against(vehicle: Vehicle, read: VinRead) -> tuple[str, str]:
    year = make = ""
    if read.year is not None and vehicle.year not in (None, read.year):
        year = f"VIN says {read.year}, typed {vehicle.year}"
    if read.makers and vehicle.make and not any(same_make(vehicle.make, name) for name in read.makers):
        make = f"VIN says maker {' or '.join(read.makers)}, typed {vehicle.make}"
    return year, make


def _year_note(read: VinRead) -> str:
    if read.year is None:
        return ""
    if not read.check_ok:
        return "a guess: only numbers with a right check digit must hold the year at place 10"
    return f"{read.other_year} on a heavy truck or a motorcycle" if read.other_year else ""
