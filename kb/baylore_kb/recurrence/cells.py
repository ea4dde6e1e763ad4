"""Count pairs and what was to be expected of them from row and column totals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat
from typing import TypeVar

import numpy as np

Row = TypeVar("Row", bound=Hashable)
Column = TypeVar("Column", bound=Hashable)
Key = tuple[str, ...]
Pair = tuple[Key, Key]
# Smaller strata would expect just what they saw; they are put together.
SMALLEST_STRATUM = 30


@dataclass(frozen=True, slots=True)
class Sides:
    """Pairs by place: the distinct cars and failures, and the row and column of each pair among them."""

    cars: Sequence[Key]
    failures: Sequence[Key]
    rows: np.ndarray
    columns: np.ndarray

    @staticmethod
    def of(pairs: Sequence[Pair]) -> Sides:
        """The sides of pairs."""
        cars, rows = numbered([car for car, _ in pairs])
        failures, columns = numbered([failure for _, failure in pairs])
        return Sides(cars, failures, rows, columns)


@dataclass(frozen=True, slots=True)
class Table:
    """Observed and expected counts: matrices over cars and failures."""

    observed: np.ndarray
    expected: np.ndarray


class Margins:
    """Totals of a stratum by car and by failure."""

    __slots__ = ("columns", "rows", "total")

    def __init__(self) -> None:
        self.rows: dict[Key, int] = {}
        self.columns: dict[Key, int] = {}
        self.total = 0

    def add(self, row: Key, column: Key, count: int) -> None:
        """Count a pair, or take it back with a negative count."""
        self.add_row(row, count)
        self.add_column(column, count)

    def add_row(self, row: Key, count: int) -> None:
        """Count a car so often; its failures come with `add_column`."""
        self.rows[row] = self.rows.get(row, 0) + count
        self.total += count

    def add_column(self, column: Key, count: int) -> None:
        """Count a failure so often."""
        self.columns[column] = self.columns.get(column, 0) + count


def tabled(strata: Iterable[Margins], sides: Sides, counts: Sequence[int]) -> Table:
    """The table of distinct pairs and, in step, their counts, over 0; no pairs give an empty one.

    Expected is row total times column total over all, summed over strata, those of under 30 put together.
    """
    observed = np.zeros((len(sides.cars), len(sides.failures)))
    observed[sides.rows, sides.columns] = counts
    held = _large(strata)
    by_row = _totals([each.rows for each in held], sides.cars)
    by_column = _totals([each.columns for each in held], sides.failures)
    totals = np.array([each.total for each in held], dtype=float).reshape(-1, 1)
    return Table(observed, by_row.T @ (by_column / totals))


def numbered(keys: Sequence[Key]) -> tuple[list[Key], np.ndarray]:
    """The distinct keys, and for each key the number of its like."""
    distinct = list(dict.fromkeys(keys))
    numbers = dict(zip(distinct, range(len(distinct)), strict=True))
    return distinct, np.array(list(map(numbers.__getitem__, keys)), dtype=np.int64)


def _large(strata: Iterable[Margins]) -> list[Margins]:
    """Strata of thirty and more, and the others as one."""
    large: list[Margins] = []
    rest = Margins()
    for stratum in strata:
        if stratum.total >= SMALLEST_STRATUM:
            large.append(stratum)
        else:
            _join(rest, stratum)
    return [*large, rest] if rest.total else large


def _join(rest: Margins, stratum: Margins) -> None:
    for into, of in ((rest.rows, stratum.rows), (rest.columns, stratum.columns)):
        for key, count in of.items():
            into[key] = into.get(key, 0) + count
    rest.total += stratum.total


def _totals(strata: Sequence[Mapping[Key, int]], keys: Sequence[Key]) -> np.ndarray:
    """One row a stratum, one column a key."""
    found = [list(map(counts.get, keys, repeat(0))) for counts in strata]
    return np.array(found, dtype=float).reshape(len(strata), len(keys))


def table_expected(pairs: Iterable[tuple[Row, Column]]) -> dict[tuple[Row, Column], float]:
    """row total * column total / total for every row and column of the pairs; empty for none."""
    held = list(pairs)
    rows, columns = Counter(row for row, _ in held), Counter(column for _, column in held)
    return {(r, c): rows[r] * columns[c] / len(held) for r in rows for c in columns}


def proportional_ratio(pairs: Sequence[tuple[Row, Column]], pair: tuple[Row, Column]) -> float:
    """Share of `pair`'s column in its row over that share in all other rows; infinite if they have none.

    For explanation only: it is not shrunk. 0 for a row that has none. Raises
    ZeroDivisionError when there is no other row.
    """
    row, column = pair
    inside = [c for r, c in pairs if r == row]
    outside = [c for r, c in pairs if r != row]
    share, other = inside.count(column) / max(1, len(inside)), outside.count(column) / len(outside)
    if other == 0.0:
        return float("inf") if share else 0.0
    return share / other
