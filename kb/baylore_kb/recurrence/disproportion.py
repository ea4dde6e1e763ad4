"""Ratios of a two by two table: for explaining a pair, never for ranking, as nothing shrinks them."""

from __future__ import annotations

import math
from dataclasses import dataclass

_Z = 1.959963984540054


@dataclass(frozen=True, slots=True)
class TwoByTwo:
    """Counts: `both` this model and failure, `row` the model's others, `column` other models', `rest`.

    All over 0 where a ratio is asked for; else ZeroDivisionError or ValueError.
    """

    both: int
    row: int
    column: int
    rest: int

    @property
    def total(self) -> int:
        """All counts together."""
        return self.both + self.row + self.column + self.rest

    @property
    def expected(self) -> float:
        """Row total times column total over all."""
        return (self.both + self.row) * (self.both + self.column) / self.total

    @property
    def share_ratio(self) -> float:
        """Share of the failure in the model over its share in the others (PRR)."""
        return (self.both / (self.both + self.row)) / (self.column / (self.column + self.rest))

    @property
    def share_limits(self) -> tuple[float, float]:
        """95 % limits of `share_ratio`. Source: Evans, Waller & Davis 2001."""
        inside = 1.0 / self.both - 1.0 / (self.both + self.row)
        return _around(self.share_ratio, inside + 1.0 / self.column - 1.0 / (self.column + self.rest))

    @property
    def odds_ratio(self) -> float:
        """Odds of the failure in the model over its odds in the others (ROR)."""
        return self.both * self.rest / (self.row * self.column)

    @property
    def odds_limits(self) -> tuple[float, float]:
        """95 % limits of `odds_ratio`. Source: Rothman 2004."""
        counts = (self.both, self.row, self.column, self.rest)
        return _around(self.odds_ratio, math.fsum(1.0 / count for count in counts))

    @property
    def chi_square(self) -> float:
        """Chi-square with Yates' correction."""
        a, b, c, d = self.both, self.row, self.column, self.rest
        off = max(0.0, abs(a * d - b * c) - self.total / 2.0)
        return self.total * off * off / ((a + b) * (c + d) * (a + c) * (b + d))

    @property
    def information(self) -> float:
        """Binary logarithm of observed over expected, half a count added to both. Source: Noren 2013."""
        return math.log2((self.both + 0.5) / (self.expected + 0.5))

    @property
    def is_signal(self) -> bool:
        """The old rule: ratio of 2, chi-square of 4 and three cases. Source: Evans, Waller & Davis 2001."""
        return self.both >= 3 and self.share_ratio >= 2.0 and self.chi_square >= 4.0


def _around(ratio: float, variance: float) -> tuple[float, float]:
    """Limits of a ratio from the variance of its logarithm."""
    width = _Z * math.sqrt(variance)
    return ratio * math.exp(-width), ratio * math.exp(width)
