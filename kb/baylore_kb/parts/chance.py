"""What is known of a source's failure chance: beta priors, posteriors and forecasts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize
from scipy.special import betaincc, betaincinv, betaln, psi

ENOUGH_SOURCES = 5
CLASS_STRENGTH = 8.0
LEAST = 0.5
# Logarithms of a and b are kept here: without spread between sources the fit runs to infinity.
_LOG_BOUNDS = (math.log(0.05), math.log(500.0))


@dataclass(frozen=True, slots=True)
class FailureChance:
    """A failure probability as Beta(a, b), a and b over 0."""

    a: float
    b: float

    @property
    def mean(self) -> float:
        """The best single guess in (0, 1): enough for a one-shot choice."""
        return self.a / (self.a + self.b)

    def after(self, failures: int, fitted: int) -> FailureChance:
        """The chance after seeing `failures` of `fitted` (0 <= failures <= fitted)."""
        return FailureChance(self.a + failures, self.b + fitted - failures)

    def quantile(self, share: float) -> float:
        """The failure chance that `share` (0 to 1) of the belief lies below."""
        return float(betaincinv(self.a, self.b, share))

    def over(self, chance: float) -> float:
        """Probability that the failure chance exceeds `chance`."""
        return float(betaincc(self.a, self.b, chance))

    @property
    def attempts(self) -> float:
        """Expected fittings until one works when all share one unknown rate; infinite for b <= 1.

        E[1/(1-f)] = (a + b - 1)/(b - 1), more than one over the mean success.
        """
        return (self.a + self.b - 1.0) / (self.b - 1.0) if self.b > 1.0 else math.inf

    def all_good(self, fitted: int) -> float:
        """Probability that the next `fitted` (0 or more) all work."""
        return math.exp(float(betaln(self.a, self.b + fitted) - betaln(self.a, self.b)))

    def at_most(self, strength: float) -> FailureChance:
        """The same mean weighing no more than `strength` fittings (over 0)."""
        share = min(1.0, strength / (self.a + self.b))
        return FailureChance(self.a * share, self.b * share)


def pooled(failures: Sequence[int], fitted: Sequence[int]) -> FailureChance:
    """The spread of failure chances over sources, by beta-binomial marginal likelihood.

    In step, one entry per source, 0 <= failures <= fitted. Without any fitting the result
    is arbitrary, so ask for at least five sources (`class_prior` serves fewer).
    """
    x, n = np.asarray(failures, dtype=float), np.asarray(fitted, dtype=float)
    bounds = [_LOG_BOUNDS, _LOG_BOUNDS]
    best = minimize(_loss, np.log([1.0, 4.0]), args=(x, n), jac=True, method="TNC", bounds=bounds)
    a, b = np.exp(best.x)
    return FailureChance(float(a), float(b))


def _loss(logs: np.ndarray, x: np.ndarray, n: np.ndarray) -> tuple[float, np.ndarray]:
    """Minus the log likelihood of failures `x` of `n` and its slope, over log a and log b."""
    a, b = np.exp(logs)
    value = -np.sum(betaln(a + x, b + n - x) - betaln(a, b))
    both = psi(a + b) - psi(a + b + n)
    slope = np.array([a * np.sum(psi(a + x) - psi(a) + both), b * np.sum(psi(b + n - x) - psi(b) + both)])
    return float(value), -slope


def class_prior(rate: float, *, strength: float = CLASS_STRENGTH) -> FailureChance:
    """A prior of mean `rate` (0 to 1) that weighs as much as `strength` fittings.

    Never surer than half a failure and half a success: however well all parts held so far,
    the next source is not certain.
    """
    return FailureChance(max(rate * strength, LEAST), max((1.0 - rate) * strength, LEAST))
