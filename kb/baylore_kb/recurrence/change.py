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
    return _Changes(np.array([counts]), np.array([expected], dtype=float), prior).at(0)


def convincing_changes(counts: np.ndarray, expected: np.ndarray) -> list[Change | None]:
    """The change of each row where it is convincing; rows of under two periods have none."""
    if not counts.size or counts.shape[1] < 2:
        return [None] * len(counts)
    found = _Changes(counts, expected, ONE_EACH)
    return [
        found.at(at) if clear else None for at, clear in enumerate((found.evidence > CONVINCING).tolist())
    ]


class _Changes:
    """The evidence of a change in each row of whole counts, and what more is asked of one."""

    def __init__(self, counts: np.ndarray, expected: np.ndarray, prior: Ratio) -> None:
        self._x, self._e = np.cumsum(counts, axis=1, dtype=np.int64), np.cumsum(expected, axis=1)
        self._prior = prior
        side = _Side(prior, int(self._x.max(initial=0)))
        x, e, all_x, all_e = self._x[:, :-1], self._e[:, :-1], self._x[:, -1:], self._e[:, -1:]
        split = side.log(x, e) + side.log(all_x - x, all_e - e)
        top = split.max(axis=1, keepdims=True)
        self._chances = np.exp(split - top)
        with_change = top[:, 0] + np.log(self._chances.mean(axis=1))
        self.evidence = with_change - side.log(all_x, all_e)[:, 0]

    def at(self, row: int) -> Change:
        """The change of a row."""
        x, e, chances, prior = self._x[row], self._e[row], self._chances[row], self._prior
        weights = chances / chances.sum()
        before = (prior.alpha + x[:-1]) / (prior.beta + e[:-1])
        after = (prior.alpha + x[-1] - x[:-1]) / (prior.beta + e[-1] - e[:-1])
        means = float(weights @ before), float(weights @ after)
        return Change(tuple(weights.tolist()), int(chances.argmax()), *means, float(self.evidence[row]))


class _Side:
    """Log of the chance of counts up to `most` with so many expected, but for what both models share."""

    def __init__(self, prior: Ratio, most: int) -> None:
        self._prior = prior
        a, b = prior.alpha, prior.beta
        self._of_count = gammaln(a + np.arange(most + 1)) - gammaln(a) + a * math.log(b)

    def log(self, x: np.ndarray, e: np.ndarray) -> np.ndarray:
        """The log for whole counts x, 0 to most, and e expected."""
        return np.asarray(self._of_count[x] - (self._prior.alpha + x) * np.log(self._prior.beta + e))
