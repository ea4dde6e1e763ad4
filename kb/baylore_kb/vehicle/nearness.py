"""How near two vehicles are, in steps whose worth a shop's own cases can teach.

Which supplier made a part of either car is not known to anybody here, so cars that share a supplier are
never called near for it; nor are makes of one group, which no rule tells from the names.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from baylore_kb.engine import engine_key
from baylore_kb.values import Vehicle
from baylore_kb.vehicle.names import name_key

YEAR_BAND = 4
# From so many years apart on, the years say nothing more for a car.
_FAR = 10
_YEARS_UNKNOWN, _OTHER_ENGINE = 0.6, 0.2

# Steps from another car to the same one, each with the level it adds by hand (Gower-style comparison, common
# practice); a car that is on a step is on all below it, so that nearer is never worth less.
LEVELS = {"open": 0.1, "make": 0.2, "engine": 0.2, "model": 0.05, "years": 0.25, "whole": 0.08, "same": 0.02}
OTHER = 0.1
# Steps that cars of one make share; the others are shared by cars of one model.
OF_THE_MAKE = frozenset(("open", "make", "engine"))


class Nearness(NamedTuple):
    """How far up each step of `LEVELS` two cars are, in [0, 1] and never rising, and why in words.

    open: not known to be another kind; make: of one make; engine: the same engine in the make; model: the
    same model; years: built near each other, as far as their engines do not differ; whole: same model, years
    and engine; same: the very car. Nothing known of either car gives "open" alone, and no words.
    """

    steps: tuple[float, ...]
    why: str

    @property
    def level(self) -> float:
        """The steps as one number in [0.1, 1], by the worth set by hand."""
        return round(OTHER + sum(map(float.__mul__, self.steps, LEVELS.values())), 6)


class Kind(NamedTuple):
    """A vehicle as it is compared: names as keys, engine by size and fuel; "" and None are not known."""

    make: str
    model: str
    year: int | None
    size: str
    fuel: str


def kind_of(vehicle: Vehicle) -> Kind:
    """What of a vehicle is compared; cars that are the same by it share one."""
    return _kind(vehicle.make, vehicle.model, vehicle.year, vehicle.engine)


@lru_cache(maxsize=20_000)
def _kind(make: str, model: str, year: int | None, engine: str) -> Kind:
    built = engine_key(engine)
    return Kind(name_key(make), name_key(model), year, built.get("size", ""), built.get("fuel", ""))


def nearness(a: Vehicle, b: Vehicle) -> Nearness:
    """Nearness of two vehicles, as `near` has it."""
    return THE_SAME if a.vin and a.vin == b.vin else near(kind_of(a), kind_of(b))


def near(a: Kind, b: Kind) -> Nearness:
    """Nearness of two kinds of car; the same both ways round.

    In falling order: same model, engine and years; same model; same engine in another model of the make;
    same make; not known, or the same kind of engine in another make; other.
    """
    if not (a.make or a.model) or not (b.make or b.model):
        return _on(1, "")
    one_make = a.make == b.make
    if a.model and a.model == b.model and (one_make or not (a.make and b.make)):
        return _same_model(a, b)
    if not one_make or not a.make:
        return _on(1, "same kind of engine, other make") if same_engine(a, b) else _other_make(a, b)
    if same_engine(a, b):
        return _on(3, "same engine, other model of the make")
    return _on(2, "same make" if not (a.model and b.model) else "same make, other model")


def _other_make(a: Kind, b: Kind) -> Nearness:
    """Another car; where make or model of one is not known, that is open."""
    differs = (a.make and b.make) or (a.model and b.model)
    return _on(0 if differs else 1, "")


_REACHED = tuple(tuple(float(n < steps) for n in range(len(LEVELS))) for steps in range(len(LEVELS) + 1))


def _on(steps: int, why: str) -> Nearness:
    """On so many of the steps."""
    return Nearness(_REACHED[steps], why)


# The very car, by its VIN.
THE_SAME = _on(len(LEVELS), "the same car")


def same_engine(a: Kind, b: Kind) -> bool | None:
    """Whether size and fuel agree; None where either is not known."""
    sizes, fuels = a.size and b.size, a.fuel and b.fuel
    if not (sizes or fuels):
        return None
    return (not sizes or a.size == b.size) and (not fuels or a.fuel == b.fuel)


def _same_model(a: Kind, b: Kind) -> Nearness:
    apart = abs(a.year - b.year) if a.year is not None and b.year is not None else None
    engine = same_engine(a, b)
    why = ", ".join(_model_words(apart, engine))
    if engine and apart is not None and apart <= YEAR_BAND:
        return _on(6, why)
    close = _YEARS_UNKNOWN if apart is None else min(1.0, max(0.0, (_FAR - apart) / (_FAR - YEAR_BAND)))
    years = close * (_OTHER_ENGINE if engine is False else 1.0)
    return Nearness((*_REACHED[4][:4], years, *_REACHED[4][5:]), why)


def _model_words(apart: int | None, engine: bool | None) -> list[str]:
    words = ["same model"]
    if apart is not None:
        words.append("same year" if apart == 0 else f"{apart} year{'s' if apart > 1 else ''} apart")
    if engine is not None:
        words.append("same engine" if engine else "other engine")
    return words
