"""Which documents hold a term, and with what weight: a sparse matrix laid out by term."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
# Numbers of terms and the weight of each in what is asked.
Asked = tuple[Sequence[int], Sequence[float]]


@dataclass(frozen=True, slots=True, eq=False)
class Sparse:
    """Weights of T terms in `size` documents: term t stands in `rows[starts[t] : starts[t + 1]]`."""

    starts: Ints
    rows: Ints
    values: Floats
    size: int

    @staticmethod
    def of(
        rows: Sequence[int], numbers: Sequence[int], values: Sequence[float], *, terms: int, size: int
    ) -> Sparse:
        """The weights given one by one, of so many terms in `size` documents."""
        columns = np.asarray(numbers, dtype=np.int64)
        order = np.argsort(columns, kind="stable")
        ends = np.cumsum(np.bincount(columns, minlength=terms))
        return Sparse(
            np.concatenate(([0], ends)).astype(np.int64),
            np.asarray(rows, dtype=np.int64)[order],
            np.asarray(values, dtype=np.float64)[order],
            size,
        )

    def squared(self) -> Sparse:
        """The same with every weight squared."""
        return Sparse(self.starts, self.rows, self.values**2, self.size)

    def dots(self, asked: Asked) -> Floats:
        """(size) the sum of weight asked times weight held of each document, terms in the order asked."""
        numbers = np.array(asked[0], dtype=np.int64)
        first = self.starts[numbers]
        many = self.starts[numbers + 1] - first
        ends = many.cumsum()
        places = np.repeat(first - ends + many, many) + np.arange(many.sum())
        weights = np.repeat(np.array(asked[1], dtype=np.float64), many) * self.values[places]
        scores = np.bincount(self.rows[places], weights, minlength=self.size)
        return np.asarray(scores, dtype=np.float64)


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

    def dots(self, asked: Sequence[Asked]) -> list[Floats]:
        """`Sparse.dots` of each collection, in step with what is asked of each."""
        numbers = [n + first for (own, _), first in zip(asked, self._terms_from, strict=False) for n in own]
        scores = self._whole.dots((numbers, [weight for _, weights in asked for weight in weights]))
        return [scores[one:other] for one, other in pairwise(self._rows_from)]
