"""How all pairs of a book stand against what was to be expected of them."""

from __future__ import annotations

import numpy as np
from scipy.special import gammaincinv, pdtrc

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import Table, tabled
from baylore_kb.recurrence.discovery import adjusted_all
from baylore_kb.recurrence.pieces import Alike
from baylore_kb.recurrence.rows import Against
from baylore_kb.recurrence.shrink import CAUTIOUS, ENOUGH_PAIRS, Ratio, fitted


class Standing:
    """How the `counted` keys of a book stand against the expected, in step with their `counts`.

    Without a car or a failure in them nothing is to be expected.
    """

    def __init__(self, book: Book) -> None:
        self.counted, sides = book.counted, book.counted.sides
        counts = [group.count for group in self.counted.groups]
        self.counts = np.array(counts, dtype=np.int64)
        self._low, self.hoped = np.zeros(len(counts)), self.counts.astype(float)
        self._table = table = (
            tabled(book.strata.values(), sides, counts) if book.compares and counts else None
        )
        if table is None:
            return
        self._place, self._prior, self._tails = (sides.rows, sides.columns), prior_of(table), _tails(table)
        self._shares = adjusted_all(self._tails.ravel()).reshape(self._tails.shape)
        self.hoped = table.expected[self._place]
        self._low = limits(self._prior, self.counts, self.hoped, 0.05)

    def surest(self, which: np.ndarray) -> np.ndarray:
        """These places of keys by the lower 5 % limits of their ratios, then by counts, then by names."""
        low, counts = self._low[which], self.counts[which]
        order = np.lexsort((-counts, -low))
        alike = (np.diff(low[order]) == 0.0) & (np.diff(counts[order]) == 0)
        if alike.any():
            names = [self.counted.keys[at] for at in which.tolist()]
            order = np.array(sorted(order.tolist(), key=lambda at: (-low[at], -counts[at], names[at])))
        return np.asarray(which[order])

    def against(self, which: np.ndarray) -> Against:
        """What these places of keys are held against."""
        if self._table is None:
            nothing: list[float | None] = [None] * len(which)
            return Against(*[nothing] * 6)
        n, e, prior = self.counts[which], self.hoped[which], self._prior
        place = self._place[0][which], self._place[1][which]
        ratio, high = (prior.alpha + n) / (prior.beta + e), limits(prior, n, e, 0.95)
        figures = e, ratio, self._low[which], high, self._tails[place], self._shares[place]
        return Against(*[figure.tolist() for figure in figures])


def _tails(table: Table) -> np.ndarray:
    """The chance of as many or more by luck, for each pair; 1 where none were seen."""
    n, e = table.observed, table.expected
    return np.where(n > 0, pdtrc(np.maximum(n - 1.0, 0.0), np.maximum(e, 1e-300)), 1.0)


def prior_of(table: Table) -> Ratio:
    """The spread of true ratios over a table; cautious under twenty pairs seen."""
    if int((table.observed > 0).sum()) < ENOUGH_PAIRS:
        return CAUTIOUS
    seen = table.expected > 0
    return fitted(table.observed[seen], table.expected[seen])


def limits(prior: Ratio, observed: np.ndarray, expected: np.ndarray, share: float) -> np.ndarray:
    """The ratios that `share` of the belief lies below, all at once."""
    sure = Alike(observed).all(lambda counts: gammaincinv(prior.alpha + counts, share))
    return np.asarray(sure / (prior.beta + expected))
