"""Lives by odometer: what is known of a part from cars that came late and cars that left early."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

# A curve starts only where so many are at risk: tiny early groups drag it to nothing.
ENOUGH_AT_RISK = 5
ENOUGH_FAILURES = 5


@dataclass(frozen=True, slots=True)
class Span:
    """One part watched from `entry` to `end` (same unit, 0 <= entry <= end), `failed` at the end or not.

    It was alive at entry. One that failed where it was first seen (entry = end) tells nothing.
    """

    end: float
    failed: bool
    entry: float = 0.0


@dataclass(frozen=True, slots=True)
class Step:
    """At `at`, `failed` of `at_risk` failed; `survival` is the share still alive after it."""

    at: float
    at_risk: int
    failed: int
    survival: float
    low: float
    high: float


def survival(spans: Iterable[Span], *, least_at_risk: int = 1) -> tuple[Step, ...]:
    """Kaplan-Meier steps with delayed entry: at risk are those with entry < t <= end. Empty without failure.

    With `least_at_risk` the curve starts at the first failure with so many at risk: it then tells of
    parts alive just before. Limits are 95 % on the log-log scale (0 and 1 where that has none).
    Source: Kaplan & Meier 1958; Klein & Moeschberger 2003 for delayed entry.
    """
    held = told(spans)
    times = sorted({span.end for span in held if span.failed})
    counted = [(t, _at_risk(held, t), sum(s.failed and s.end == t for s in held)) for t in times]
    started = next((n for n, each in enumerate(counted) if each[1] >= least_at_risk), len(counted))
    return tuple(_steps(counted[started:]))


def told(spans: Iterable[Span]) -> list[Span]:
    """The spans that tell anything: those watched for some distance."""
    return [span for span in spans if span.end > span.entry]


def _at_risk(spans: Sequence[Span], at: float) -> int:
    return sum(span.entry < at <= span.end for span in spans)


def _steps(counted: Sequence[tuple[float, int, int]]) -> Iterable[Step]:
    alive, spread = 1.0, 0.0
    for at, at_risk, failed in counted:
        alive *= 1.0 - failed / at_risk
        spread += failed / (at_risk * (at_risk - failed)) if at_risk > failed else 0.0
        yield Step(at, at_risk, failed, alive, *_limits(alive, spread))


def _limits(alive: float, spread: float) -> tuple[float, float]:
    if not 0.0 < alive < 1.0:
        return 0.0, 1.0
    width = 1.959963984540054 * math.sqrt(spread) / math.log(alive)
    return alive ** math.exp(-width), alive ** math.exp(width)


def median_life(steps: Sequence[Step]) -> float | None:
    """Where half are left; None where the curve does not come down so far."""
    return next((step.at for step in steps if step.survival <= 0.5), None)


@dataclass(frozen=True, slots=True)
class Weibull:
    """A Weibull life: `shape` without unit, `scale` in the spans' unit, with its log likelihood."""

    shape: float
    scale: float
    log_likelihood: float

    def gone_at(self, share: float) -> float:
        """Where `share` (0 to under 1) have failed."""
        return float(self.scale * (-math.log1p(-share)) ** (1.0 / self.shape))


def weibull(spans: Iterable[Span]) -> Weibull | None:
    """The likeliest life given that each was alive at its entry; None under five failures.

    Source: likelihood f(t)/S(entry) and S(t)/S(entry), Hong, Meeker & McCalley 2009.
    """
    held = told(spans)
    if sum(span.failed for span in held) < ENOUGH_FAILURES:
        return None
    t, entry = np.array([s.end for s in held]), np.array([s.entry for s in held])
    failed = np.array([s.failed for s in held])

    def log_likelihood(shape: float, scale: float) -> float:
        hazard = math.log(shape / scale) + (shape - 1.0) * np.log(t[failed] / scale)
        return float(hazard.sum() - ((t / scale) ** shape - (entry / scale) ** shape).sum())

    return _likeliest(log_likelihood, float(t.mean()))


def weibull_of_failed(ends: Sequence[float], limits: Sequence[float]) -> Weibull | None:
    """The likeliest life where only failures are seen, each given that it failed before its limit.

    In step, 0 < end <= limit. Weak: may lie far too high; show it as a hint at most. None under five.
    Source: Kalbfleisch & Lawless 1989 (right truncation).
    """
    if len(ends) < ENOUGH_FAILURES:
        return None
    t, limit = np.asarray(ends, dtype=float), np.asarray(limits, dtype=float)

    def log_likelihood(shape: float, scale: float) -> float:
        density = math.log(shape / scale) + (shape - 1.0) * np.log(t / scale) - (t / scale) ** shape
        return float((density - np.log(-np.expm1(-((limit / scale) ** shape)))).sum())

    return _likeliest(log_likelihood, float(t.mean()))


def _likeliest(log_likelihood: Callable[[float, float], float], about: float) -> Weibull | None:
    """The top of a likelihood over shape and scale; None where it has none in sight."""

    def loss(logs: np.ndarray) -> float:
        with np.errstate(over="ignore", invalid="ignore"):
            value = -log_likelihood(math.exp(float(logs[0])), about * math.exp(float(logs[1])))
        return value if math.isfinite(value) else 1e300

    bounds = [(math.log(0.05), math.log(20.0)), (math.log(1e-3), math.log(1e3))]
    found = minimize(
        loss,
        np.array([0.3, 0.3]),
        method="Nelder-Mead",
        bounds=bounds,
        options={"xatol": 1e-9, "fatol": 1e-10, "maxiter": 4000},
    )
    inside = all(low + 1e-3 < at < high - 1e-3 for at, (low, high) in zip(found.x, bounds, strict=True))
    shape, scale = math.exp(float(found.x[0])), about * math.exp(float(found.x[1]))
    return Weibull(shape, scale, -float(found.fun)) if inside else None
