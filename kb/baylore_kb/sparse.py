"""Which documents hold a term, and with what weight: a sparse matrix laid out by term."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

import numpy as np

from baylore_kb.added_plain import Floats, Ints

try:
    from baylore_kb.added_compiled import added
except ImportError:  # numba is optional
    from baylore_kb.added_plain import added  # type: ignore[assignment]


@dataclass(frozen=True, slots=True, eq=False)
class Sparse:
    """Weights of T terms in `size` documents: term t stands in `rows[starts[t] : starts[t + 1]]`."""

    starts: Ints
    rows: Ints
    values: Floats
    size: int

    @staticmethod
    def of(rows: Sequence[int], numbers: Sequence[int], values: Floats, *, terms: int, size: int) -> Sparse:
        """The weights given one by one, of so many terms in `size` documents."""
        columns = np.asarray(numbers, dtype=np.int64)
        order = np.argsort(columns, kind="stable")
        ends = np.cumsum(np.bincount(columns, minlength=terms))
        starts = np.concatenate(([0], ends)).astype(np.int64)
        return Sparse(starts, np.asarray(rows, dtype=np.int64)[order], np.asarray(values)[order], size)

    def squared(self) -> Sparse:
        """The same with every weight squared."""
        return Sparse(self.starts, self.rows, self.values**2, self.size)

    def dots(self, numbers: Ints, weights: Floats) -> Floats:
        """(size) the sum of weight asked times weight held of each document, terms in the order asked."""
        return np.asarray(added(self.starts, self.rows, self.values, (numbers, weights), size=self.size))


class Stacked:
    """Several collections asked at one time, each its own question, by one product for all; at least one."""

    def __init__(self, collections: Sequence[Sparse]) -> None:
        self._rows_from = [*accumulate((each.size for each in collections), initial=0)]
        self._terms_from = [*accumulate((len(each.starts) - 1 for each in collections), initial=0)]
        held_from = [*accumulate((len(each.rows) for each in collections), initial=0)]
        starts = [each.starts[:-1] + first for each, first in zip(collections, held_from, strict=False)]
        rows = [each.rows + first for each, first in zip(collections, self._rows_from, strict=False)]
        self._whole = Sparse(
            np.concatenate([*starts, held_from[-1:]]),
            np.concatenate(rows),
            np.concatenate([each.values for each in collections]),
            self._rows_from[-1],
        )
        # the first use, compiling or loading what is compiled, would keep a question waiting
        self._whole.dots(np.zeros(0, dtype=np.int64), np.zeros(0))

    def dots(self, asked: Sequence[tuple[Ints, Floats]]) -> list[Floats]:
        """`Sparse.dots` of each collection for the numbers and weights asked of it."""
        numbers = [own + first for (own, _), first in zip(asked, self._terms_from, strict=False)]
        scores = self._whole.dots(np.concatenate(numbers), np.concatenate([weights for _, weights in asked]))
        return [scores[one:other] for one, other in pairwise(self._rows_from)]
