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
    """How the `keys` of a book stand against the expected, in step with their `groups` and `counts`.

    `cars` are their cars, `car_of` the place of each one's. Without a car or a failure in them nothing is
    to be expected.
    """

    def __init__(self, book: Book) -> None:
        counted = book.counted
        self.keys, self.groups = [key for key, _ in counted], [group for _, group in counted]
        counts = [group.count for group in self.groups]
        table = tabled(book.strata.values(), book.pairs(self.keys), counts)
        self.cars, self.car_of, self.counts = table.cars, table.rows, np.array(counts, dtype=np.int64)
        self._table = table if book.compares and counts else None
        if self._table is None:
            self._low = np.zeros(len(self.keys))
            return
        self._prior = prior_of(table)
        self._tails = _tails(table)
        self._shares = adjusted_all(self._tails.ravel()).reshape(self._tails.shape)
        self._low = limits(self._prior, self.counts, table.expected[table.rows, table.columns], 0.05)

    def surest(self, which: np.ndarray) -> np.ndarray:
        """These places of keys by the lower 5 % limits of their ratios, then by counts, then by names."""
        low, counts = self._low[which], self.counts[which]
        order = np.lexsort((-counts, -low))
        alike = (np.diff(low[order]) == 0.0) & (np.diff(counts[order]) == 0)
        if alike.any():
            order = np.array(
                sorted(order.tolist(), key=lambda at: (-low[at], -counts[at], self.keys[which[at]]))
            )
        return np.asarray(which[order])

    def hoped(self, which: np.ndarray) -> np.ndarray:
        """What was to be expected at these places of keys; as many as were seen where nothing is known."""
        table = self._table
        if table is None:
            return np.asarray(self.counts[which], dtype=float)
        return np.asarray(table.expected[table.rows[which], table.columns[which]])

    def against(self, which: np.ndarray) -> Against:
        """What these places of keys are held against."""
        table = self._table
        if table is None:
            nothing: list[float | None] = [None] * len(which)
            return Against(*[nothing] * 6)
        place = table.rows[which], table.columns[which]
        n, e, prior = self.counts[which], table.expected[place], self._prior
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
