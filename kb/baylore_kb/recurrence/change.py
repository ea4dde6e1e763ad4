"""Since when: where in a series of counts the rate changed, if it did."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln

from baylore_kb.recurrence.shrink import Ratio

# Below this a change is not spoken of: three to one for it.
CONVINCING = math.log(3.0)
ONE_EACH = Ratio(1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Change:
    """`chances[i]` that the rate changed after period i, `after` the likeliest of them.

    The rates before and after are means over where the change may lie. `evidence` is the log of
    how much likelier the counts are with one change than with none.
    """

    chances: tuple[float, ...]
    after: int
    before_rate: float
    after_rate: float
    evidence: float

    @property
    def convincing(self) -> bool:
        """Whether the evidence suffices to speak of a change."""
        return self.evidence > CONVINCING

    def span(self, level: float = 0.9) -> tuple[int, int]:
        """First and last period that `level` of the chance lies between, the tails even."""
        sums = np.cumsum(self.chances)
        tail = (1.0 - level) / 2.0
        first, last = np.searchsorted(sums, [tail, 1.0 - tail])
        return int(first), int(min(last, len(self.chances) - 1))


def change_point(
    counts: Sequence[int], expected: Sequence[float], *, prior: Ratio = ONE_EACH
) -> Change | None:
    """Where the ratio of counts to what was expected (0 or more), in step, changed once.

    None under two periods. Each side's ratio has the gamma `prior`, each place is as likely before. Exact.
    Source: Raftery & Akman 1986, with known exposure.
    """
    if len(counts) < 2:
        return None
    x, e = np.cumsum(np.asarray(counts, dtype=float)), np.cumsum(np.asarray(expected, dtype=float))
    split = _log_side(x[:-1], e[:-1], prior) + _log_side(x[-1] - x[:-1], e[-1] - e[:-1], prior)
    top = float(split.max())
    chances = np.exp(split - top)
    with_change = top + math.log(float(chances.mean()))
    weights = chances / chances.sum()
    before = (prior.alpha + x[:-1]) / (prior.beta + e[:-1])
    after = (prior.alpha + x[-1] - x[:-1]) / (prior.beta + e[-1] - e[:-1])
    evidence = with_change - float(_log_side(x[-1:], e[-1:], prior)[0])
    shares = tuple(float(each) for each in weights)
    return Change(shares, int(chances.argmax()), float(weights @ before), float(weights @ after), evidence)


def _log_side(x: np.ndarray, e: np.ndarray, prior: Ratio) -> np.ndarray:
    """Log of the chance of counts summing to x with e expected, but for what both models share."""
    a, b = prior.alpha, prior.beta
    return np.asarray(gammaln(a + x) - (a + x) * np.log(b + e) - gammaln(a) + a * math.log(b))
