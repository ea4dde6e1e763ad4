"""How all pairs of a book stand against what was to be expected of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.special import gammaincinv, pdtrc

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import Key, Table, tabled
from baylore_kb.recurrence.discovery import adjusted_all
from baylore_kb.recurrence.rows import Against
from baylore_kb.recurrence.shrink import CAUTIOUS, ENOUGH_PAIRS, Ratio, fitted

Pair = tuple[Key, Key]


class Standing:
    """How all pairs of a book stand against the expected; keys it does not compare have nothing."""

    def __init__(self, book: Book) -> None:
        self._split = book.split
        table = tabled(book.strata.values(), book.cells) if book.compares else None
        self._table = table if table is not None and table.rows else None
        if self._table is None:
            return
        self._prior = prior_of(self._table)
        self._tails = _tails(self._table)
        self._shares = adjusted_all(self._tails.ravel()).reshape(self._tails.shape)
        self._low = limits(self._prior, self._table.observed, self._table.expected, 0.05)

    def surest(self, keys: Sequence[Key], counts: Sequence[int]) -> list[Key]:
        """The keys in order of the lower 5 % limit of their ratio, 0 where there is none, then of counts."""
        lows = np.zeros(len(keys))
        known, place = self._places([self._split(key) for key in keys])
        if self._table is not None:
            lows[known] = self._low[place]
        order = sorted(zip((-lows).tolist(), [-count for count in counts], keys, strict=True))
        return [key for *_, key in order]

    def against(self, pairs: Sequence[Pair]) -> list[Against | None]:
        """What each car and failure is held against; None for a pair that is not compared."""
        found: list[Against | None] = [None] * len(pairs)
        known, place = self._places(pairs)
        table = self._table
        if table is None:
            return found
        n, e, prior = table.observed[place], table.expected[place], self._prior
        ratio, high = (prior.alpha + n) / (prior.beta + e), limits(prior, n, e, 0.95)
        figures = (e, ratio, self._low[place], high, self._tails[place], self._shares[place])
        each = map(Against._make, np.stack(figures, axis=1).tolist())
        for where, one in zip(known.tolist(), each, strict=True):
            found[where] = one
        return found

    def _places(self, pairs: Sequence[Pair]) -> tuple[np.ndarray, tuple[np.ndarray, np.ndarray]]:
        """Which of the pairs are compared, and their rows and columns."""
        table = self._table
        if table is None:
            nothing = np.zeros(0, dtype=np.int64)
            return nothing, (nothing, nothing)
        rows = np.array([table.rows.get(car, -1) for car, _ in pairs], dtype=np.int64)
        columns = np.array([table.columns.get(failure, -1) for _, failure in pairs], dtype=np.int64)
        known = np.flatnonzero((rows >= 0) & (columns >= 0))
        return known, (rows[known], columns[known])


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
    return np.asarray(gammaincinv(prior.alpha + observed, share) / (prior.beta + expected))
