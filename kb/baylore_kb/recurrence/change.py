"""Since when: where in a series of counts the rate changed, if it did."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln

from baylore_kb.recurrence.pieces import pieces
from baylore_kb.recurrence.shrink import Ratio

# Below this a change is not spoken of: three to one for it.
CONVINCING = math.log(3.0)
ONE_EACH = Ratio(1.0, 1.0)
_TAIL = (1.0 - 0.9) / 2.0


@dataclass(frozen=True, slots=True)
class Change:
    """`chances[i]` that the rate changed after period i, `after` the likeliest of them.

    The rates before and after are means over where the change may lie. `evidence` is the log of
    how much likelier the counts are with one change than with none. 90 % of the chance lies from
    period `first` to `last`, the tails even.
    """

    chances: tuple[float, ...]
    after: int
    before_rate: float
    after_rate: float
    evidence: float
    first: int
    last: int

    @property
    def convincing(self) -> bool:
        """Whether the evidence suffices to speak of a change."""
        return self.evidence > CONVINCING


def change_point(
    counts: Sequence[int], expected: Sequence[float], *, prior: Ratio = ONE_EACH
) -> Change | None:
    """Where the ratio of counts to what was expected (0 or more), in step, changed once.

    None under two periods. Each side's ratio has the gamma `prior`, each place is as likely before. Exact.
    Source: Raftery & Akman 1986, with known exposure.
    """
    if len(counts) < 2:
        return None
    return _Changes(np.array([counts]), np.array([expected], dtype=float), prior).of(np.array([0]))[0]


def convincing_changes(counts: np.ndarray, expected: np.ndarray) -> tuple[list[Change | None], np.ndarray]:
    """The change of each row where it is convincing, and what the evidence of each is at most.

    Rows of under two periods have none.
    """
    found: list[Change | None] = [None] * len(counts)
    most = np.zeros(len(counts))
    if not counts.size or counts.shape[1] < 2:
        return found, most
    for piece in pieces(len(counts)):
        held = _Changes(counts[piece], expected[piece], ONE_EACH)
        clear, most[piece] = held.convincing()
        for at, change in zip(clear.tolist(), held.of(clear), strict=True):
            found[piece.start + at] = change
    return found, most


class _Changes:
    """The evidence of a change in each row of whole counts, and what more is asked of one."""

    def __init__(self, counts: np.ndarray, expected: np.ndarray, prior: Ratio) -> None:
        self._x, self._e = np.cumsum(counts, axis=1, dtype=np.int64), np.cumsum(expected, axis=1)
        self._prior = prior
        side = _Side(prior, int(self._x.max(initial=0)))
        x, e, all_x, all_e = self._x[:, :-1], self._e[:, :-1], self._x[:, -1:], self._e[:, -1:]
        self._split = side.log(x, e) + side.log(all_x - x, all_e - e)
        self._top, self._none = self._split.max(axis=1), side.log(all_x, all_e)[:, 0]

    def convincing(self) -> tuple[np.ndarray, np.ndarray]:
        """The rows whose evidence suffices to speak of a change, and what that of each is at most."""
        # The mean over all places is no more than the top.
        most = self._top - self._none
        rows = np.flatnonzero(most > CONVINCING)
        most[rows] = self._evidence(rows, self._chances(rows))
        return np.flatnonzero(most > CONVINCING), most

    def _chances(self, rows: np.ndarray) -> np.ndarray:
        """The chance of each place, the likeliest 1."""
        return np.asarray(np.exp(self._split[rows] - self._top[rows, None]))

    def _evidence(self, rows: np.ndarray, chances: np.ndarray) -> np.ndarray:
        return np.asarray(self._top[rows] + np.log(chances.mean(axis=1)) - self._none[rows])

    def of(self, rows: np.ndarray) -> list[Change]:
        """The changes of some rows."""
        x, e, chances, prior = self._x[rows], self._e[rows], self._chances(rows), self._prior
        weights = chances / chances.sum(axis=1, keepdims=True)
        before = (prior.alpha + x[:, :-1]) / (prior.beta + e[:, :-1])
        after = (prior.alpha + x[:, -1:] - x[:, :-1]) / (prior.beta + e[:, -1:] - e[:, :-1])
        sums, most = np.cumsum(weights, axis=1), weights.shape[1] - 1
        each = zip(
            map(tuple, weights.tolist()),
            chances.argmax(axis=1).tolist(),
            map(_mean, weights, before),
            map(_mean, weights, after),
            self._evidence(rows, chances).tolist(),
            (sums < _TAIL).sum(axis=1).tolist(),
            np.minimum((sums < 1.0 - _TAIL).sum(axis=1), most).tolist(),
            strict=True,
        )
        return [Change(*one) for one in each]


def _mean(weights: np.ndarray, values: np.ndarray) -> float:
    return float(weights @ values)


class _Side:
    """Log of the chance of counts up to `most` with so many expected, but for what both models share."""

    def __init__(self, prior: Ratio, most: int) -> None:
        self._prior = prior
        a, b = prior.alpha, prior.beta
        self._of_count = gammaln(a + np.arange(most + 1)) - gammaln(a) + a * math.log(b)

    def log(self, x: np.ndarray, e: np.ndarray) -> np.ndarray:
        """The log for whole counts x, 0 to most, and e expected."""
        return np.asarray(self._of_count.take(x) - (self._prior.alpha + x) * np.log(self._prior.beta + e))
