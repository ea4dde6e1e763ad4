"""How near two vehicles are, the shop's names for them, and what their engine and gearbox tell."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA, JaroWinkler

from baylore_kb.engine import same_engine
from baylore_kb.tokens import fold
from baylore_kb.traits import traits_of
from baylore_kb.values import Vehicle

__all__ = ["Nearness", "known_name", "name_key", "nearness", "traits_of"]

# Levels by hand (methods of Gower-style comparison, common practice); the fitted weights scale them.
SAME_CAR, SAME_ENGINE_AND_YEARS, SAME_MODEL, SAME_ENGINE, SAME_MAKE, OTHER = 1.0, 1.0, 0.8, 0.6, 0.4, 0.1
UNKNOWN = 0.2
YEAR_BAND = 4
_SURE_NAME = 0.9


@dataclass(frozen=True, slots=True)
class Nearness:
    """How near, in [0, 1], and why in words; nothing known of either car gives a low level and no words."""

    level: float
    why: str


def nearness(a: Vehicle, b: Vehicle) -> Nearness:
    """Nearness of two vehicles; the same both ways round.

    Same model, engine and years is 1, same model .8, same engine in another model .6, same make .4.
    """
    if not _named(a) or not _named(b):
        return Nearness(UNKNOWN, "")
    if _same(a.model, b.model) and (_same(a.make, b.make) or not (a.make and b.make)):
        return _same_model(a, b)
    engine = same_engine(a, b)
    if engine and _same(a.make, b.make):
        return Nearness(SAME_ENGINE, "same make and engine, other model")
    if _same(a.make, b.make):
        return Nearness(SAME_MAKE, "same make")
    return Nearness(OTHER + (0.1 if engine else 0.0), "same kind of engine" if engine else "")


def _named(vehicle: Vehicle) -> bool:
    return bool(vehicle.make or vehicle.model)


def _same(a: str, b: str) -> bool:
    return bool(a) and name_key(a) == name_key(b)


@lru_cache(maxsize=20_000)
def name_key(name: str) -> str:
    """A make or model folded to its letters and digits, so that "C-Max" and "c max" are one."""
    return re.sub(r"[\W_]+", "", fold(name))


def _same_model(a: Vehicle, b: Vehicle) -> Nearness:
    apart = abs(a.year - b.year) if a.year is not None and b.year is not None else None
    engine = same_engine(a, b)
    level = SAME_MODEL
    if apart is not None and apart > YEAR_BAND:
        level -= min(0.3, 0.05 * (apart - YEAR_BAND))
    elif apart is not None and engine is not False:
        level = SAME_ENGINE_AND_YEARS if engine else 0.9
    if engine is False:
        level -= 0.1
    return Nearness(round(level, 3), ", ".join(_model_words(apart, engine)))


def _model_words(apart: int | None, engine: bool | None) -> list[str]:
    words = ["same model"]
    if apart is not None:
        words.append("same year" if apart == 0 else f"{apart} year{'s' if apart > 1 else ''} apart")
    if engine is not None:
        words.append("same engine" if engine else "other engine")
    return words


def known_name(typed: str, names: Iterable[str]) -> str | None:
    """The shop's name for a typed make or model: the same letters, or one so alike that it is a slip.

    Returns None where no name of the shop is near; names of up to three signs must agree wholly.
    """
    by_key = {name_key(name): name for name in sorted(names)}
    key = name_key(typed)
    if key in by_key:
        return by_key[key]
    if len(key) <= 3:
        return None
    best = process.extractOne(key, by_key.keys(), scorer=JaroWinkler.similarity, score_cutoff=_SURE_NAME)
    if best is None or any(c.isdigit() for c in key + best[0]):
        return None
    return by_key[best[0]] if OSA.distance(key, best[0]) <= (2 if len(key) >= 8 else 1) else None
