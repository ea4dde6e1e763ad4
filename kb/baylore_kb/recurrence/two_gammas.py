"""Shrink observed over expected by a mixture of two gammas, for tables of very many pairs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.optimize import brentq
from scipy.special import gammaincc, gammaln, psi

from baylore_kb.recurrence.shrink import Ratio

# Five figures cannot be learned from fewer non-empty pairs.
ENOUGH_FOR_TWO = 500


@dataclass(frozen=True, slots=True)
class TwoGammas:
    """True ratios are of `first` with chance `share` (0 to 1), else of `second`. Source: DuMouchel 1999."""

    first: Ratio
    second: Ratio
    share: float

    def after(self, observed: int, expected: float) -> TwoGammas:
        """The belief after `observed` (0 or more) where `expected` (over 0) was to be seen."""
        logs = [_log_chance(each, observed, expected) for each in (self.first, self.second)]
        odds = self.share * math.exp(logs[0] - max(logs)), (1.0 - self.share) * math.exp(logs[1] - max(logs))
        share = odds[0] / (odds[0] + odds[1])
        return TwoGammas(self.first.after(observed, expected), self.second.after(observed, expected), share)

    @property
    def geometric_mean(self) -> float:
        """The shrunk ratio: e to the mean logarithm."""
        logs = [float(psi(each.alpha)) - math.log(each.beta) for each in (self.first, self.second)]
        return math.exp(self.share * logs[0] + (1.0 - self.share) * logs[1])

    def over(self, ratio: float) -> float:
        """Probability that the true ratio exceeds `ratio` (0 or more)."""
        one, two = (float(gammaincc(each.alpha, each.beta * ratio)) for each in (self.first, self.second))
        return self.share * one + (1.0 - self.share) * two

    def quantile(self, share: float) -> float:
        """The ratio that `share` (over 0, under 1) of the belief lies below."""
        ends = [each.quantile(share) for each in (self.first, self.second)]
        low, high = min(ends), max(ends)
        if high - low < 1e-12 * high:
            return high
        return float(brentq(lambda ratio: 1.0 - self.over(ratio) - share, low, high, xtol=1e-12, rtol=1e-12))


def _log_chance(prior: Ratio, n: int, e: float) -> float:
    """Log of the negative binomial chance of `n`."""
    a, b = prior.alpha, prior.beta
    counted = float(gammaln(a + n) - gammaln(a) - gammaln(n + 1))
    return counted - n * math.log1p(b / e) - a * math.log1p(e / b)
