"""Which rows surely still have no change of rate, so that few are looked at anew after each case."""

from __future__ import annotations

import numpy as np

from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.change import CONVINCING
from baylore_kb.recurrence.counted import Counted

# Far more than what sums of many months are rounded by.
_ROUNDED = 1e-6


class Steady:
    """How far the logs of what months let expect may move before a change of a row could convince.

    Evidence of a change over n cases moves by no more than 3 + 2n times as much: each side's log chance is
    its cases and the prior's one times the log of what was expected, and the whole's is too. What is left
    holds while the rows and their cars have the same cases; it is used up by what the others' cases move.
    """

    def __init__(self) -> None:
        self._counted: Counted | None = None
        self._left = self._peaks = self._hoped = np.zeros(0)
        self._start, self._shop = 0, np.zeros(0, dtype=np.int64)
        self._touched: set[Key] = set()

    def touch(self, car: Key) -> None:
        """Cases of a car have come or gone."""
        self._touched.add(car)

    def sure(self, counted: Counted, hoped: np.ndarray, shop: np.ndarray, *, start: int) -> np.ndarray:
        """Which rows surely have none; so much is `hoped` of each, `shop` is seen from month `start` on."""
        alike = counted is self._counted and start == self._start and len(shop) == len(self._shop)
        if alike:
            self._left -= np.abs(np.log(hoped / self._hoped)) + self._moved(counted, shop)
            touched = np.array([car in self._touched for car in counted.sides.cars], dtype=bool)
            self._left[touched[counted.sides.rows]] = -1.0
        else:
            self._left, self._peaks = np.full(len(hoped), -1.0), np.zeros(len(hoped))
        self._counted, self._hoped, self._start, self._shop = counted, hoped, start, shop
        self._touched.clear()
        return np.asarray(self._left >= 0.0)

    def _moved(self, counted: Counted, shop: np.ndarray) -> np.ndarray:
        """The most by which the logs of the months' shares of all other cases have moved, for each row."""
        by, least = shop - self._shop, np.minimum(shop, self._shop)
        moved = by != 0
        if not moved.any():
            return np.zeros(len(self._peaks))
        whole = min(shop.sum(), self._shop.sum()) - np.array([group.count for group in counted.groups])
        months = _most(int(np.abs(by).max()), least[moved].min() - self._peaks)
        return np.asarray(months + _most(abs(int(by.sum())), whole))

    def looked(self, which: np.ndarray, own: np.ndarray, evidence: np.ndarray) -> None:
        """Rows were looked at: their cases by month, and what the evidence is at most."""
        self._left[which] = (CONVINCING - evidence - _ROUNDED) / (3.0 + 2.0 * own.sum(axis=1))
        self._peaks[which] = own.max(axis=1, initial=0)


def _most(by: int, least: np.ndarray) -> np.ndarray:
    """The most the log of what is `least` or more can move by so much; no end where that may be nothing."""
    return np.asarray(np.where(least > 0, by / np.maximum(least, 1), np.inf if by else 0.0))
