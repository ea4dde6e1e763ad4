"""Count pairs and what was to be expected of them from row and column totals."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

Row = TypeVar("Row", bound=Hashable)
Column = TypeVar("Column", bound=Hashable)
Key = tuple[str, ...]
Cells = Mapping[tuple[Key, Key], int]
# Smaller strata would expect just what they saw; they are put together.
SMALLEST_STRATUM = 30


@dataclass(frozen=True, slots=True)
class Table:
    """Observed and expected counts: matrices over `rows` and `columns`, their places by key."""

    rows: Mapping[Key, int]
    columns: Mapping[Key, int]
    observed: np.ndarray
    expected: np.ndarray

    def at(self, row: Key, column: Key) -> tuple[int, int]:
        """The place of a pair in the matrices."""
        return self.rows[row], self.columns[column]


def tabled(strata: Iterable[Cells]) -> Table:
    """The table of counts by stratum; expected is row total times column total over all, summed over strata.

    Strata of under 30 are put together. Nothing gives an empty table.
    """
    held = _large(strata)
    keys = [pair for stratum in held for pair in stratum]
    rows = {key: at for at, key in enumerate(dict.fromkeys(row for row, _ in keys))}
    columns = {key: at for at, key in enumerate(dict.fromkeys(column for _, column in keys))}
    observed = np.zeros((len(rows), len(columns)))
    expected = np.zeros((len(rows), len(columns)))
    for stratum in held:
        matrix = _matrix(stratum, rows, columns)
        observed += matrix
        expected += np.outer(matrix.sum(axis=1), matrix.sum(axis=0)) / matrix.sum()
    return Table(rows, columns, observed, expected)


def _large(strata: Iterable[Cells]) -> list[Cells]:
    large: list[Cells] = []
    rest: defaultdict[tuple[Key, Key], int] = defaultdict(int)
    for stratum in strata:
        if sum(stratum.values()) >= SMALLEST_STRATUM:
            large.append(stratum)
            continue
        for pair, count in stratum.items():
            rest[pair] += count
    return [*large, rest] if any(rest.values()) else large


def _matrix(stratum: Cells, rows: Mapping[Key, int], columns: Mapping[Key, int]) -> np.ndarray:
    found = np.zeros((len(rows), len(columns)))
    for (row, column), count in stratum.items():
        found[rows[row], columns[column]] = count
    return found


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
