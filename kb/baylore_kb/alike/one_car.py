"""Whether two records are of one car: by its VIN, else by name, year, engine and odometer."""

from __future__ import annotations

from functools import lru_cache

from rapidfuzz.distance import OSA

from baylore_kb.alike.record import Record, days_between, one_after_the_other
from baylore_kb.vehicle import kind_of, same_engine
from baylore_kb.vehicle.names import is_alias, name_key

# On one day a car is test driven; from one day to the next one that is worked on stands. No source.
KM_ON_ONE_DAY, KM_BETWEEN_DAYS = 60.0, 10.0
_TWO_SLIPS_FROM = 8


def one_car(one: Record, other: Record) -> bool | None:
    """True: surely one car on one visit; False: two cars, or one that was away; None: nothing tells."""
    if one.car.vin and other.car.vin:
        return _same_vin(one, other)
    if _named_apart(one, other):
        return False
    if one.km is None or other.km is None:
        return False if _years(one, other) else None
    return _stood(one, other) and _years(one, other) <= 1


def _same_vin(one: Record, other: Record) -> bool | None:
    if (one.car.vin or "").upper() != (other.car.vin or "").upper():
        return False
    if days_between(one, other) == 0:
        return True  # another odometer within a day is a slip
    if one.km is not None and other.km is not None:
        return _stood(one, other)
    return None if one_after_the_other(one, other) else True


def _stood(one: Record, other: Record) -> bool:
    """Whether the odometers allow one visit."""
    if one.km is None or other.km is None:
        return True
    return abs(one.km - other.km) <= (KM_BETWEEN_DAYS if days_between(one, other) else KM_ON_ONE_DAY)


def _years(one: Record, other: Record) -> int:
    """Years between two cars as written, 0 where one is not known."""
    if one.car.year is None or other.car.year is None:
        return 0
    return abs(one.car.year - other.car.year)


def _named_apart(one: Record, other: Record) -> bool:
    models = one.model != other.model and two_names(one.car.model, other.car.model)
    makes = one.make != other.make and two_names(one.car.make, other.car.make)
    return models or makes or same_engine(kind_of(one.car), kind_of(other.car)) is False


@lru_cache(maxsize=50_000)
def two_names(one: str, other: str) -> bool:
    """Whether two names are two: neither a slip nor a short form of the other. An empty one fits all."""
    a, b = name_key(one), name_key(other)
    if not a or not b:
        return False
    slips = 2 if min(len(a), len(b)) >= _TWO_SLIPS_FROM else 1
    if _digits(a) == _digits(b) and OSA.distance(a, b, score_cutoff=slips) <= slips:
        return False
    return not is_alias(one, other)


def _digits(name: str) -> str:
    """The digits of a name: "3" and "5" are two models, not a slip."""
    return "".join(sign for sign in name if sign.isdigit())
