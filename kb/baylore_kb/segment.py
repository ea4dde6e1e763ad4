"""A run of case documents with its postings: immutable, joined with its neighbour when both are small."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc
from baylore_kb.lexicon import Numbers

Weights = npt.NDArray[np.float32]
_NONE = np.zeros(0, dtype=np.int32)
_NO_WEIGHTS = np.zeros(0, dtype=np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class Postings:
    """For each number the documents that hold it, ascending, with a weight each."""

    keys: Numbers
    starts: npt.NDArray[np.int64]
    documents: Numbers
    weights: Weights

    @staticmethod
    def of(rows: Sequence[Numbers], weights: Sequence[Weights] | None = None, *, first: int) -> Postings:
        """Postings of rows of numbers; the first row is document `first`. No rows give empty postings."""
        if not rows:
            return Postings(_NONE, np.zeros(1, dtype=np.int64), _NONE, _NO_WEIGHTS)
        numbers = np.concatenate(rows)
        owners = np.repeat(np.arange(first, first + len(rows), dtype=np.int32), [len(row) for row in rows])
        order = np.argsort(numbers, kind="stable")
        keys, starts = np.unique(numbers[order], return_index=True)
        values = np.concatenate(weights)[order] if weights is not None else _NO_WEIGHTS
        return Postings(keys, np.append(starts, len(numbers)).astype(np.int64), owners[order], values)

    def at(self, number: int) -> slice:
        """Where the postings of a number lie; an empty slice for one not held."""
        place = int(np.searchsorted(self.keys, number))
        if place == len(self.keys) or self.keys[place] != number:
            return slice(0, 0)
        return slice(int(self.starts[place]), int(self.starts[place + 1]))


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """Documents `first` to `first + len(docs) - 1` of a snapshot."""

    first: int
    docs: tuple[CaseDoc, ...]
    terms: Postings
    words: Postings
    lengths: npt.NDArray[np.float64]
    facets: Mapping[str, Numbers]

    @staticmethod
    def of(docs: Sequence[CaseDoc], *, first: int) -> Segment:
        """A segment of these documents, numbered from `first`."""
        facets: dict[str, list[int]] = defaultdict(list)
        for number, doc in enumerate(docs, first):
            for facet in doc.facets:
                facets[facet].append(number)
        return Segment(
            first,
            tuple(docs),
            Postings.of([doc.terms for doc in docs], [doc.weights for doc in docs], first=first),
            Postings.of([doc.words for doc in docs], first=first),
            np.asarray([doc.length for doc in docs], dtype=np.float64),
            {facet: np.asarray(numbers, dtype=np.int32) for facet, numbers in facets.items()},
        )


def appended(segments: tuple[Segment, ...], docs: Sequence[CaseDoc]) -> tuple[Segment, ...]:
    """The segments with new documents at the end; sizes at least halve from one to the next.

    Joining neighbours of like size keeps their count logarithmic and the work per added case small.
    """
    if not docs:
        return segments
    first = segments[-1].first + len(segments[-1].docs) if segments else 0
    kept = list(segments)
    fresh = list(docs)
    while kept and len(kept[-1].docs) < 2 * len(fresh):
        last = kept.pop()
        fresh = [*last.docs, *fresh]
        first = last.first
    return (*kept, Segment.of(fresh, first=first))
