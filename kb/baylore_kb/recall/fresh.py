"""The documents that came last: few, in plain dictionaries, found at once and merged later."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Sequence

import numpy as np

from baylore_kb.recall.layout import Ints, Longs, Rows, impacts


class Fresh:
    """Documents numbered from 0 as they are added; one adds at a time, any number may ask meanwhile."""

    def __init__(self, pivot: float) -> None:
        self._pivot = pivot
        self._held: dict[int, list[tuple[int, int]]] = {}
        self._rows: list[tuple[Ints, bytes, int]] = []
        self.ids: list[Hashable] = []
        self.order: list[int] = []
        self.alive = bytearray()

    def __len__(self) -> int:
        return len(self.ids)

    def add(self, id: Hashable, order: int, terms: Ints, counts: Ints) -> None:
        """Add a document by its distinct terms and how often each comes."""
        number, length = len(self._rows), int(counts.sum())
        impact = impacts(counts.astype(np.float64), length, self._pivot).tobytes()
        self.order.append(order)
        self.alive.append(1)
        self._rows.append((terms, impact, length))
        self.ids.append(id)
        for term, worth in zip(terms.tolist(), impact, strict=True):
            self._held.setdefault(term, []).append((number, worth))

    def kill(self, order: int) -> int | None:
        """Mark the document that came as number `order` dead; its length, None when it is not here."""
        at = bisect_left(self.order, order)
        if at == len(self.order) or self.order[at] != order:
            return None
        self.alive[at] = 0
        return self._rows[at][2]

    def count_into(self, counts: Ints) -> None:
        """Add to each term's count the documents that hold it, dead ones too."""
        for term, held in list(self._held.items()):
            counts[term] += len(held)

    def best(self, terms: Sequence[int], weights: Sequence[int], k: int) -> list[tuple[int, int]]:
        """The `k` living documents of the highest sums: (sum, number), best first, ties by number."""
        sums: dict[int, int] = {}
        for term, weight in zip(terms, weights, strict=True):
            for number, worth in self._held.get(term, ()):
                sums[number] = sums.get(number, 0) + weight * worth
        living = ((value, n) for n, value in sums.items() if value > 0 and self.alive[n])
        return sorted(living, key=lambda hit: (-hit[0], hit[1]))[:k]

    def rows(self) -> Rows:
        """All documents, dead ones too, ready to be laid out."""
        none = np.zeros(0, dtype=np.int32)
        return Rows(
            np.concatenate([none, *(terms for terms, _, _ in self._rows)]),
            np.frombuffer(b"".join(impact for _, impact, _ in self._rows), dtype=np.uint8),
            np.cumsum([len(terms) for terms, _, _ in self._rows], dtype=np.int64),
            np.asarray([length for _, _, length in self._rows], dtype=np.int32),
        )

    def orders(self) -> Longs:
        """When each document came."""
        return np.asarray(self.order, dtype=np.int64)
