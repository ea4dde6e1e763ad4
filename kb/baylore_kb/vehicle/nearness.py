"""How near two vehicles are, in steps whose worth a shop's own cases can teach.

Which supplier made a part of either car is not known to anybody here, so cars that share a supplier are
never called near for it; nor are makes of one group, which no rule tells from the names.
"""

from __future__ import annotations

from dataclasses import dataclass

from baylore_kb.engine import same_engine
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


@dataclass(frozen=True, slots=True)
class Nearness:
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


def nearness(a: Vehicle, b: Vehicle) -> Nearness:
    """Nearness of two vehicles; the same both ways round.

    In falling order: the same car, by its VIN; same model, engine and years; same model; same engine in
    another model of the make; same make; not known, or the same kind of engine in another make; other.
    """
    if a.vin and a.vin == b.vin:
        return _on(7, "the same car")
    if not _named(a) or not _named(b):
        return _on(1, "")
    if _same(a.model, b.model) and (_same(a.make, b.make) or not (a.make and b.make)):
        return _same_model(a, b)
    engine = same_engine(a, b)
    if not _same(a.make, b.make):
        return _on(1, "same kind of engine, other make") if engine else _other_make(a, b)
    if engine:
        return _on(3, "same engine, other model of the make")
    return _on(2, "same make" if not (a.model and b.model) else "same make, other model")


def _other_make(a: Vehicle, b: Vehicle) -> Nearness:
    """Another car; where make or model of one is not known, that is open."""
    differs = (a.make and b.make) or (a.model and b.model)
    return _on(0 if differs else 1, "")


def _on(steps: int, why: str, *, years: float = 1.0) -> Nearness:
    """On so many of the steps."""
    reached = [float(n < steps) for n in range(len(LEVELS))]
    reached[4] *= years
    return Nearness(tuple(reached), why)


def _named(vehicle: Vehicle) -> bool:
    return bool(vehicle.make or vehicle.model)


def _same(a: str, b: str) -> bool:
    return bool(a) and name_key(a) == name_key(b)


def _same_model(a: Vehicle, b: Vehicle) -> Nearness:
    apart = abs(a.year - b.year) if a.year is not None and b.year is not None else None
    engine = same_engine(a, b)
    near = _YEARS_UNKNOWN if apart is None else min(1.0, max(0.0, (_FAR - apart) / (_FAR - YEAR_BAND)))
    why = ", ".join(_model_words(apart, engine))
    if engine and apart is not None and apart <= YEAR_BAND:
        return _on(6, why)
    return _on(5, why, years=near * (_OTHER_ENGINE if engine is False else 1.0))


def _model_words(apart: int | None, engine: bool | None) -> list[str]:
    words = ["same model"]
    if apart is not None:
        words.append("same year" if apart == 0 else f"{apart} year{'s' if apart > 1 else ''} apart")
    if engine is not None:
        words.append("same engine" if engine else "other engine")
    return words
