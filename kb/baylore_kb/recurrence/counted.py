"""The keys of a book that something is counted under, while they stay the same, and what is kept of each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from baylore_kb.recurrence.cells import Key, Sides
from baylore_kb.recurrence.groups import Group
from baylore_kb.trade.model import Trade

# Names and title of a key, its count and returns, and the facts of its cases.
_TOLD = 4 + 12


class Counted:
    """Keys, their groups, and the places of their cars and failures, all in step.

    Columns of what was told of each by itself are kept until its cases change, and so are its months: a
    list of all rows then looks at none of the other groups.
    """

    def __init__(self, keys: Sequence[Key], groups: Sequence[Group], sides: Sides) -> None:
        self.keys, self.groups, self.sides = keys, groups, sides
        self._places = dict(zip(keys, range(len(keys)), strict=True))
        self._columns: list[list[Any]] = [[None] * len(keys) for _ in range(_TOLD)]
        self._told = np.zeros(len(keys), dtype=bool)
        self._months, self._start = np.zeros((len(keys), 0), dtype=np.int32), 0
        self._laid = np.zeros(len(keys), dtype=bool)

    def forget(self, key: Key) -> None:
        """The cases of a key have changed."""
        at = self._places.get(key)
        if at is not None:
            self._told[at] = self._laid[at] = False

    def told(self, which: np.ndarray, by: Sequence[str], trade: Trade) -> list[list[Any]]:
        """Column by column what is told of these places: names, title, count, returns, then `Facts`."""
        for at in which[~self._told[which]].tolist():
            group = self.groups[at]
            names, title, facts = group.told(by, self.keys[at], trade)
            for column, value in zip(
                self._columns, (names, title, group.count, group.returns, *facts), strict=True
            ):
                column[at] = value
        self._told[which] = True
        places = which.tolist()
        return [[column[at] for at in places] for column in self._columns]

    def by_month(self, which: np.ndarray, start: int, months: int) -> np.ndarray:
        """The cases of these places in each of `months` months from `start` on, one row each."""
        if start != self._start or months != self._months.shape[1]:
            self._months, self._start = np.zeros((len(self.keys), months), dtype=np.int32), start
            self._laid[:] = False
        for at in which[~self._laid[which]].tolist():
            self._months[at] = self.groups[at].by_month(start, months)
        self._laid[which] = True
        return np.asarray(self._months[which])
