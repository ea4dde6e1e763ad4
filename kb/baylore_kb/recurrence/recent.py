"""Counts of each pair in the last months, as matrices: what alerts look at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import Key, tabled

KEPT_MONTHS = 72


@dataclass(frozen=True, slots=True)
class Recent:
    """Counts by month (the last is `month`), car and failure; `lean` is how much the odometer bands and
    years let expect of a pair, over what the plain totals do.
    """

    month: int
    counts: np.ndarray
    lean: np.ndarray
    keys: dict[tuple[int, int], Key]

    def within(self, first: int, last: int) -> np.ndarray:
        """Counts of months that many back, `first` (the longer) included, `last` not; 0 is now's end."""
        total = len(self.counts)
        return np.asarray(self.counts[max(0, total - first) : max(0, total - last)].sum(axis=0))


def recent(book: Book, month: int) -> Recent | None:
    """The last 72 months up to `month` of a book that compares cars and failures; None without any case."""
    counted = book.counted
    if not counted.keys or not book.compares:
        return None
    table = tabled(book.strata.values(), counted.sides, [group.count for group in counted.groups])
    counts = np.zeros((KEPT_MONTHS, *table.observed.shape), dtype=np.float32)
    keys: dict[tuple[int, int], Key] = {}
    places = zip(counted.sides.rows.tolist(), counted.sides.columns.tolist(), strict=True)
    for at, key, group in zip(places, counted.keys, counted.groups, strict=True):
        keys[at] = key
        _fill(counts, at, group.months, month)
    plain = np.outer(table.observed.sum(axis=1), table.observed.sum(axis=0)) / table.observed.sum()
    return Recent(month, counts, table.expected / np.maximum(plain, 1e-12), keys)


def _fill(counts: np.ndarray, at: tuple[int, int], months: dict[int, int], month: int) -> None:
    for when, count in months.items():
        place = KEPT_MONTHS - 1 - (month - when)
        if 0 <= place < KEPT_MONTHS:
            counts[place, at[0], at[1]] += count
