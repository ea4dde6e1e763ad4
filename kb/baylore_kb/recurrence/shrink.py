"""Shrink observed over expected towards one: a gamma belief updated by Poisson counts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize
from scipy.special import gammaincc, gammaincinv, gammaln, psi

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
    n, e = np.asarray(observed, dtype=float), np.asarray(expected, dtype=float)
    a, b = prior.alpha, prior.beta
    each = gammaln(a + n) - gammaln(a) - gammaln(n + 1) + a * np.log(b / (b + e)) + n * np.log(e / (b + e))
    return float(each.sum())


def fitted(observed: Counts, expected: Counts) -> Ratio:
    """The spread of true ratios that makes the counts likeliest; expected over 0, in step.

    Without any pair the result is arbitrary: ask for `ENOUGH_PAIRS`, else use `CAUTIOUS`.
    Source: Clayton & Kaldor 1987; DuMouchel 1999 with one component.
    """
    n, e = np.asarray(observed, dtype=float), np.asarray(expected, dtype=float)
    bounds = [_LOG_BOUNDS, _LOG_BOUNDS]
    best = minimize(_loss, np.log([2.0, 2.0]), args=(n, e), jac=True, method="TNC", bounds=bounds)
    a, b = np.exp(best.x)
    return Ratio(float(a), float(b))


def _loss(logs: np.ndarray, n: np.ndarray, e: np.ndarray) -> tuple[float, np.ndarray]:
    """Minus the log likelihood and its slope, over log alpha and log beta."""
    a, b = np.exp(logs)
    alpha = np.sum(psi(a + n) - psi(a) + np.log(b / (b + e)))
    beta = np.sum(a / b - (a + n) / (b + e))
    return -log_likelihood(Ratio(float(a), float(b)), n, e), -np.array([a * alpha, b * beta])
