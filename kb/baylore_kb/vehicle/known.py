"""The car a question is about: what was typed, with what the VIN and the words fill in, each marked."""

from __future__ import annotations

from collections.abc import Callable, Set
from contextlib import suppress
from dataclasses import replace
from typing import Any

from baylore_kb.errors import MalformedVin
from baylore_kb.tokens import fold
from baylore_kb.values import KnownCar, Origin, ReadAs, Vehicle
from baylore_kb.vehicle.cars import Cars
from baylore_kb.vehicle.names import name_key
from baylore_kb.vehicle.said import Said, car_said
from baylore_kb.vehicle.vin_says import filled_by_vin

_FIELDS = ("year", "make", "model", "engine")


def car_known(
    typed: Vehicle,
    text: str,
    cars: Cars,
    *,
    ordinary: Callable[[str], bool],
    as_typed: Set[str] = frozenset(),
) -> KnownCar:
    """The vehicle as the shop writes it, filled from its VIN, then from the words of the complaint.

    Nothing typed is changed but for its spelling, and `read_as` says what was read as what. Words about
    another car than the one typed fill nothing, nor do the folded names and words of `as_typed`, which are
    right as they stand. An unreadable VIN fills nothing here. `ordinary` tells the folded words that anybody
    writes.
    """
    full = typed
    with suppress(MalformedVin):
        full = filled_by_vin(typed)
    named = _kept_as_typed(cars.named(full), full, as_typed)
    read = [
        ReadAs(a, b, "car") for a, b in ((full.make, named.make), (full.model, named.model)) if _respelt(a, b)
    ]
    said = None if named.make and named.model else car_said(text, cars, ordinary=ordinary)
    filled = named if said is None or fold(said.typed) in as_typed else _with_said(named, said)
    if said is not None and filled != named:
        read.append(ReadAs(said.typed, said.words, "car"))
    return KnownCar(
        filled, _origins(filled, named), tuple(read), () if filled.engine else cars.engines(filled)
    )


def _kept_as_typed(named: Vehicle, typed: Vehicle, as_typed: Set[str]) -> Vehicle:
    right: dict[str, Any] = {
        name: had for name in ("make", "model") if fold(had := getattr(typed, name)) in as_typed and had
    }
    return replace(named, **right) if right else named


def _respelt(typed: str, name: str) -> bool:
    """Whether more than capitals, blanks and dashes changed."""
    return name_key(typed) != name_key(name)


def _with_said(car: Vehicle, said: Said) -> Vehicle:
    """The car with what the words say where nothing else is known; not from words about another one."""
    if any(
        had and told and name_key(str(had)) != name_key(str(told))
        for had, told in ((car.make, said.make), (car.model, said.model))
    ):
        return car
    empty = {name: told for name in _FIELDS if (told := getattr(said, name)) and not getattr(car, name)}
    return replace(car, **empty) if empty else car


def _origins(filled: Vehicle, named: Vehicle) -> dict[str, Origin]:
    """Where each known field comes from."""
    found: dict[str, Origin] = {}
    for name in _FIELDS:
        if getattr(filled, name):
            by_vin: Origin = "vin" if name in named.from_vin else "typed"
            found[name] = by_vin if getattr(named, name) else "words"
    return found
