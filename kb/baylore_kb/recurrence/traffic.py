"""Cases by month of a whole shop and of its cars, kept as cases come and go."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

import numpy as np

from baylore_kb.recurrence.cells import Key


def laid_out(counts: Mapping[int, int], start: int, months: int) -> np.ndarray:
    """Counts by month as a row of `months` months from `start` on; none but 0 lies outside."""
    found = np.zeros(months, dtype=np.int32)
    for month, count in counts.items():
        if count:
            found[month - start] = count
    return found


class Traffic:
    """Counts from month `start` on (twelve to a year from year 0), over `months` months; none, no months."""

    def __init__(self) -> None:
        self.start = self.months = 0
        self._shop: dict[int, int] = {}
        self._cars: defaultdict[Key, dict[int, int]] = defaultdict(dict)
        self._rows: dict[Key, np.ndarray] = {}

    def count(self, car: Key, month: int, step: int) -> None:
        """Count cases of a car in a month, or take them back."""
        held, shop = self._cars[car], self._shop
        held[month] = held.get(month, 0) + step
        was = shop.get(month, 0)
        shop[month] = was + step
        self._rows.pop(car, None)
        if not was or not shop[month]:
            self._bound(month)

    def _bound(self, month: int) -> None:
        """Where the months begin and end once one has its first case or has lost its last."""
        if not self._shop[month]:
            del self._shop[month]
        self.start = min(self._shop, default=0)
        self.months = max(self._shop) + 1 - self.start if self._shop else 0
        self._rows.clear()

    @property
    def shop(self) -> np.ndarray:
        """The months of all cases."""
        return laid_out(self._shop, self.start, self.months)

    def car(self, key: Key) -> np.ndarray:
        """The months of a car's cases, laid out once until they change; of all where none is named."""
        found = self._rows.get(key)
        if found is None:
            counts = self._cars.get(key, {}) if key else self._shop
            found = self._rows[key] = laid_out(counts, self.start, self.months)
        return found
