"""Count pairs and what was to be expected of them from row and column totals."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Pair = tuple[str, str]
# Smaller strata would expect just what they saw; they are put together.
SMALLEST_STRATUM = 30


@dataclass(frozen=True, slots=True)
class Counts:
    """Observed and expected by (row, column); expected holds every cell that could have been seen."""

    observed: dict[Pair, int]
    expected: dict[Pair, float]


def counted(pairs: Iterable[tuple[Pair, str]]) -> Counts:
    """Counts of (pair, stratum); expected is row total times column total over all, summed over strata.

    Strata of under 30 are put together. Nothing gives empty counts.
    """
    observed: Counter[Pair] = Counter()
    expected: defaultdict[Pair, float] = defaultdict(float)
    for stratum in _strata(list(pairs)):
        observed.update(stratum)
        for pair, count in table_expected(stratum).items():
            expected[pair] += count
    return Counts(dict(observed), dict(expected))


def _strata(pairs: Sequence[tuple[Pair, str]]) -> list[list[Pair]]:
    by_stratum: defaultdict[str, list[Pair]] = defaultdict(list)
    for pair, stratum in pairs:
        by_stratum[stratum].append(pair)
    large = [held for held in by_stratum.values() if len(held) >= SMALLEST_STRATUM]
    rest = [pair for held in by_stratum.values() if len(held) < SMALLEST_STRATUM for pair in held]
    return [*large, rest] if rest else large


def table_expected(pairs: Iterable[Pair]) -> dict[Pair, float]:
    """row total * column total / total for every row and column of the pairs; empty for none."""
    held = list(pairs)
    rows, columns = Counter(row for row, _ in held), Counter(column for _, column in held)
    return {(r, c): rows[r] * columns[c] / len(held) for r in rows for c in columns}


def proportional_ratio(pairs: Sequence[Pair], pair: Pair) -> float:
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
