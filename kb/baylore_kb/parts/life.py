"""How far fitted parts run: lives by odometer, some ended by failure, the others still running."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from baylore_kb.parts.ways import mean_life
from baylore_kb.trade.model import Trade

# From so many failures on the shape is fitted too; below, the usual one of such parts stands in.
ENOUGH_TO_FIT = 5
FEWEST = 3
_ELECTRONIC, _GENERAL, _WEARING = 1.0, 2.0, 3.0
_ELECTRONIC_MODES = frozenset(("no_signal", "software", "open", "short", "drift", "not_learned"))
_SHAPES = (0.2, 12.0)


@dataclass(frozen=True, slots=True)
class Run:
    """Distance in km one fitted part ran, over 0, and whether it had failed at the end of it."""

    km: float
    failed: bool


@dataclass(frozen=True, slots=True)
class LifeCurve:
    """Weibull life of a part: `shape`, `scale` in km, and the failures behind it."""

    shape: float
    scale: float
    failures: int

    @property
    def mean_km(self) -> float:
        """Mean distance to failure."""
        return mean_life(shape=self.shape, scale=self.scale)


def life_curve(runs: Iterable[Run], *, shape: float = _GENERAL) -> LifeCurve | None:
    """The life behind `runs`; parts still running count as running. None under three failures.

    From five failures with different distances on the shape is fitted by maximum likelihood, else
    `shape` is taken. Source: Weibull likelihood with right censoring.
    """
    known = [run for run in runs if run.km > 0.0]
    failed = [run.km for run in known if run.failed]
    if len(failed) < FEWEST:
        return None
    every = np.asarray([run.km for run in known])
    fitted = _fitted(np.asarray(failed), every) if len(failed) >= ENOUGH_TO_FIT else None
    chosen = shape if fitted is None else fitted
    return LifeCurve(chosen, _scale(every, len(failed), chosen), len(failed))


def _scale(every: np.ndarray, failures: int, shape: float) -> float:
    """The likeliest scale for a shape: (sum of km^shape / failures)^(1/shape), kept from overflowing."""
    longest = float(every.max())
    return longest * math.pow(float(((every / longest) ** shape).sum()) / failures, 1.0 / shape)


def _fitted(failed: np.ndarray, every: np.ndarray) -> float | None:
    """The likeliest shape between 0.2 and 12; None where the likelihood has no top in there."""
    relative = every / every.max()
    logs = float(np.log(failed / every.max()).mean())

    def slope(shape: float) -> float:
        powers = relative**shape
        return float(1.0 / shape + logs - (powers * np.log(relative)).sum() / powers.sum())

    low, high = slope(_SHAPES[0]), slope(_SHAPES[1])
    return float(brentq(slope, *_SHAPES)) if low > 0.0 > high else None


def usual_shape(component: str, trade: Trade) -> float:
    """3 for parts that wear, 1 for electronics, else 2; by the listed ways the part fails."""
    modes = {cause.mode for cause in trade.causes.values() if cause.component == component}
    if "worn" in modes:
        return _WEARING
    return _ELECTRONIC if modes and modes <= _ELECTRONIC_MODES else _GENERAL


def cost_per_1000_km(cost: float | None, curve: LifeCurve | None) -> float | None:
    """Long-run money per 1000 km of a part that costs `cost` each time; None where either is not known."""
    return None if cost is None or curve is None else 1000.0 * cost / curve.mean_km
