"""Shrink observed over expected towards one: a gamma belief updated by Poisson counts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize
from scipy.special import gammaincc, gammaincinv, gammaln, psi

from baylore_kb.recurrence.pieces import Alike

Counts = Sequence[float] | np.ndarray

ENOUGH_PAIRS = 20
# Logarithms of alpha and beta are kept here: without any spread the fit runs to infinity.
_LOG_BOUNDS = (math.log(0.05), math.log(1000.0))


@dataclass(frozen=True, slots=True)
class Ratio:
    """What is believed of a true ratio to the expected: Gamma(alpha, rate beta), both over 0."""

    alpha: float
    beta: float

    @property
    def mean(self) -> float:
        """The shrunk ratio."""
        return self.alpha / self.beta

    def after(self, observed: float, expected: float) -> Ratio:
        """The belief after `observed` where `expected` (0 or more) was to be seen."""
        return Ratio(self.alpha + observed, self.beta + expected)

    def quantile(self, share: float) -> float:
        """The ratio that `share` (0 to 1) of the belief lies below."""
        return float(gammaincinv(self.alpha, share)) / self.beta

    def over(self, ratio: float) -> float:
        """Probability that the true ratio exceeds `ratio`."""
        return float(gammaincc(self.alpha, self.beta * ratio))


CAUTIOUS = Ratio(2.0, 2.0)


def log_likelihood(prior: Ratio, observed: Counts, expected: Counts) -> float:
    """Log of the chance of the counts under `prior` (negative binomial); expected over 0, in step."""
    return _Seen(observed, expected).likelihood(prior.alpha, prior.beta)[0]


def fitted(observed: Counts, expected: Counts) -> Ratio:
    """The spread of true ratios that makes the counts likeliest; expected over 0, in step.

    Without any pair the result is arbitrary: ask for `ENOUGH_PAIRS`, else use `CAUTIOUS`.
    Source: Clayton & Kaldor 1987; DuMouchel 1999 with one component.
    """
    seen, bounds = _Seen(observed, expected), [_LOG_BOUNDS, _LOG_BOUNDS]
    best = minimize(seen.loss, np.log([2.0, 2.0]), jac=True, method="TNC", bounds=bounds)
    a, b = np.exp(best.x)
    return Ratio(float(a), float(b))


class _Seen:
    """Counts and what was expected, in step, to be held against one belief after the other."""

    def __init__(self, observed: Counts, expected: Counts) -> None:
        self._n, self._e = np.asarray(observed, dtype=float), np.asarray(expected, dtype=float)
        self._counts = Alike(self._n)
        self._ways = gammaln(self._n + 1)

    def likelihood(self, a: float, b: float) -> tuple[float, np.ndarray]:
        """Log of the chance of all counts, and the logs of b's part that its slope needs too."""
        n, held = self._n, b + self._e
        share = np.log(b / held)
        each = self._counts.all(lambda n: gammaln(a + n) - gammaln(a)) - self._ways
        return float((each + a * share + n * np.log(self._e / held)).sum()), share

    def loss(self, logs: np.ndarray) -> tuple[float, np.ndarray]:
        """Minus the log likelihood and its slope, over log alpha and log beta."""
        a, b = np.exp(logs)
        log, share = self.likelihood(float(a), float(b))
        alpha = np.sum(self._counts.all(lambda n: psi(a + n) - psi(a)) + share)
        beta = np.sum(a / b - (a + self._n) / (b + self._e))
        return -log, -np.array([a * alpha, b * beta])
