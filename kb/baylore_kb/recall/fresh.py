"""The documents that came last: few, in plain dictionaries, found at once and laid out later."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from baylore_kb.recall.layout import Bytes, Ints, Longs, Rows, impacts

Mask = npt.NDArray[np.bool_]


class Row(NamedTuple):
    """A document: its distinct term numbers, how often each comes (any weight above 0), its length."""

    terms: Ints
    weights: npt.NDArray[np.number]
    length: float


class _Shelf:
    """Documents numbered from 0, only ever added; views of fewer of them stay right."""

    def __init__(self, pivot: float) -> None:
        self.pivot = pivot
        self.held: dict[int, list[tuple[int, int]]] = {}
        self.rows: list[tuple[Ints, bytes, float]] = []
        self.order: list[int] = []

    def add(self, terms: Ints, impact: bytes, length: float, *, order: int) -> None:
        """Put a document at the end."""
        number = len(self.rows)
        self.order.append(order)
        self.rows.append((terms, impact, length))
        for term, worth in zip(terms.tolist(), impact, strict=True):
            self.held.setdefault(term, []).append((number, worth))

    def copy(self, size: int) -> _Shelf:
        """A shelf of its own with the first `size` documents."""
        other = _Shelf(self.pivot)
        for row, order in zip(self.rows[:size], self.order, strict=False):
            other.add(*row, order=order)
        return other


@dataclass(frozen=True, slots=True, eq=False)
class Fresh:
    """The documents of a shelf that one value knows: those before `len(alive)`, from `first` on.

    `alive` holds a byte for each, 0 for the dead and for those before `first`, which lie elsewhere by now.
    """

    shelf: _Shelf
    alive: bytes = b""
    first: int = 0
    size: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "size", len(self.alive))

    @staticmethod
    def of(pivot: float) -> Fresh:
        """An empty one; `pivot` is the mean length that lengths are weighed against."""
        return Fresh(_Shelf(pivot))

    def added(self, row: Row, order: int) -> Fresh:
        """This and one more document, which came as number `order`."""
        shelf = self.shelf if len(self.shelf.rows) == self.size else self.shelf.copy(self.size)
        impact = impacts(np.asarray(row.weights, dtype=np.float64), row.length, shelf.pivot).tobytes()
        shelf.add(row.terms, impact, float(row.length), order=order)
        return Fresh(shelf, self.alive + b"\1", self.first)

    def without(self, orders: Sequence[int]) -> tuple[Fresh, list[float]]:
        """This with documents dead, and the lengths of those that lived till now."""
        alive, lengths = bytearray(self.alive), []
        for order in orders:
            at = bisect_left(self.shelf.order, order, 0, self.size)
            if at < self.size and self.shelf.order[at] == order and alive[at]:
                alive[at] = 0
                lengths.append(self.shelf.rows[at][2])
        return (replace(self, alive=bytes(alive)) if lengths else self), lengths

    def since(self, order: int) -> Fresh:
        """Only the documents that came as number `order` or later."""
        first = bisect_left(self.shelf.order, order, 0, self.size)
        return Fresh(self.shelf, bytes(first) + self.alive[first:], first)

    def dead(self) -> list[int]:
        """The numbers of the documents that no longer live."""
        return [self.shelf.order[n] for n in range(self.first, self.size) if not self.alive[n]]

    def count(self, term: int) -> int:
        """How many documents hold a term, dead ones too."""
        held = self.shelf.held.get(term)
        return bisect_left(held, (self.size,)) - bisect_left(held, (self.first,)) if held else 0

    def best(
        self, terms: Sequence[int], weights: Sequence[int], k: int, *, allowed: Mask | None = None
    ) -> list[tuple[int, int]]:
        """The `k` living documents of the highest sums: (minus the sum, its number), best first."""
        sums: dict[int, int] = {}
        for term, weight in zip(terms, weights, strict=True):
            for at, worth in self.shelf.held.get(term, ()):
                sums[at] = sums.get(at, 0) + weight * worth
        order = self.shelf.order
        living = ((-value, order[at]) for at, value in sums.items() if at < self.size and self.alive[at])
        return sorted(hit for hit in living if hit[0] and (allowed is None or allowed[hit[1]]))[:k]

    def rows(self) -> tuple[Rows, Longs]:
        """The living documents, ready to be laid out, and when each came."""
        living = [n for n in range(self.size) if self.alive[n]]
        rows = [self.shelf.rows[n] for n in living]
        return Rows(
            np.concatenate([np.zeros(0, dtype=np.int32), *(terms for terms, _, _ in rows)]),
            _bytes(b"".join(impact for _, impact, _ in rows)),
            np.cumsum([len(terms) for terms, _, _ in rows], dtype=np.int64),
            np.asarray([length for _, _, length in rows], dtype=np.float32),
        ), np.asarray([self.shelf.order[n] for n in living], dtype=np.int64)


def _bytes(held: bytes) -> Bytes:
    return np.frombuffer(held, dtype=np.uint8)
