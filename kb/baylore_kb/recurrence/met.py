"""Many sightings as columns of numbers, added up at once."""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Sequence

import numpy as np

from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.sightings import Sighting

_YEARS = 10_000
_NO_MONTH = -1


class Met:
    """What was met, one entry a sighting: the number of its key, its stratum and its month."""

    def __init__(self) -> None:
        self._keys, self._places, self._months = array("q"), array("q"), array("q")

    def add(self, number: int, one: Sighting) -> None:
        """Take a sighting whose key has this number."""
        self._keys.append(number)
        self._places.append((one.stratum[0] + 1) * _YEARS + one.stratum[1])
        self._months.append(_NO_MONTH if one.month is None else one.month)

    def by_place(self, side: np.ndarray) -> Iterator[tuple[int, tuple[int, int], int]]:
        """Side, stratum and how often; `side` has a number for each key's car or failure."""
        for number, place, count in _counted(side, self._keys, np.asarray(self._places, dtype=np.int64)):
            yield number, (place // _YEARS - 1, place % _YEARS), count

    def by_month(self, side: np.ndarray) -> Iterator[tuple[int, int, int]]:
        """Side, month and how often, of those with a month."""
        for number, month, count in _counted(side, self._keys, np.asarray(self._months, dtype=np.int64)):
            if month != _NO_MONTH:
                yield number, month, count


def _counted(side: np.ndarray, keys: array[int], other: np.ndarray) -> Iterator[tuple[int, int, int]]:
    """Each pair of a side and another number with how often it is there."""
    if not len(keys):
        return
    wide = int(other.max()) + 2
    codes = side[np.asarray(keys, dtype=np.int64)] * wide + other + 1
    found, counts = np.unique(codes, return_counts=True)
    for code, count in zip(found.tolist(), counts.tolist(), strict=True):
        yield code // wide, code % wide - 1, count


def numbered(keys: Sequence[Key]) -> tuple[list[Key], np.ndarray]:
    """The distinct keys, and for each key the number of its like."""
    numbers: dict[Key, int] = {}
    places = [numbers.setdefault(key, len(numbers)) for key in keys]
    return list(numbers), np.asarray(places, dtype=np.int64)
