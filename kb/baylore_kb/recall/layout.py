"""How postings lie in memory: blocks of documents, one byte of impact, three kinds of terms.

A segment holds the postings of many documents, term after term. The document number of a posting is kept
within its block of `BLOCK` documents, so that sixteen bits do and the sums of a block stay in the fastest
cache. A term of more than an eighth of the documents is a column of bytes, one a document. A term of few
documents keeps whole document numbers and needs no table of where its blocks begin.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
import numpy.typing as npt

BLOCK = 8192
K1, B = 1.2, 0.75
# The largest value of BM25's part of a term's frequency, and the byte that stands for it.
MOST_PART, MOST_IMPACT = K1 + 1.0, 255
RARE, COLUMN = -1, -2
# So many documents tell which terms keep coming together.
SAMPLE, _WORD = 1024, 64
# A table of block beginnings pays from so many postings a block.
_POSTINGS_A_BLOCK = 4
_COMMON_SHARE = 8

Bytes = npt.NDArray[np.uint8]
Ints = npt.NDArray[np.int32]
Longs = npt.NDArray[np.int64]
Shorts = npt.NDArray[np.uint16]
Lengths = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """The postings of `len(lengths)` documents, numbered from 0.

    For each term number below `len(count)`: `count` documents hold it; `kind` is `RARE`, the row of `table`
    (0 or more), or `COLUMN` minus the row of `columns`; `start` is where its postings begin, in `rare` for a
    rare term and in `near` otherwise. `table` holds where each block begins, counted from `start`.
    `lengths` are the documents' lengths in terms.
    """

    start: Longs
    count: Ints
    kind: Ints
    near: Shorts
    near_impact: Bytes
    rare: Ints
    rare_impact: Bytes
    table: npt.NDArray[np.uint32]
    columns: Bytes
    lengths: Lengths

    @property
    def laid(self) -> tuple[npt.NDArray[Any], ...]:
        """All arrays of the postings, in the order of the fields."""
        return (
            self.start, self.count, self.kind, self.near, self.near_impact,
            self.rare, self.rare_impact, self.table, self.columns,
        )  # fmt: skip

    @property
    def size(self) -> int:
        """How many documents it holds, dead ones too."""
        return len(self.lengths)

    @property
    def nbytes(self) -> int:
        """Bytes of all arrays."""
        return sum(getattr(self, each.name).nbytes for each in fields(self))

    def arrays(self) -> dict[str, npt.NDArray[Any]]:
        """All arrays by name."""
        return {each.name: getattr(self, each.name) for each in fields(self)}


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Documents as their distinct terms, one document after the other.

    `ends` are where each document's terms end; `impact` is each term's byte in its document.
    """

    terms: Ints
    impact: Bytes
    ends: Longs
    lengths: Lengths


@dataclass(frozen=True, slots=True, eq=False)
class Sample:
    """Which of `size` documents hold each term: rows of bits, the first of them empty.

    `row_of` is the row of each term number, 0 for a term that no sampled document holds.
    """

    row_of: Ints
    bits: npt.NDArray[np.uint64]
    size: int


NO_SAMPLE = Sample(np.zeros(0, dtype=np.int32), np.zeros((1, SAMPLE // _WORD), dtype=np.uint64), 0)


def sampled(rows: Rows, terms: int) -> Sample:
    """A sample of the documents, evenly spread; `terms` are numbered by now."""
    chosen = np.unique(np.linspace(0, len(rows.ends) - 1, min(SAMPLE, len(rows.ends))).astype(np.int64))
    starts = np.concatenate(([0], rows.ends))[chosen]
    held = [rows.terms[a:b] for a, b in zip(starts, rows.ends[chosen], strict=True)]
    numbers = np.concatenate([np.zeros(0, dtype=np.int32), *held])
    columns = np.repeat(np.arange(len(chosen)), [len(each) for each in held])
    found, place = np.unique(numbers, return_inverse=True)
    bits = np.zeros((len(found) + 1, SAMPLE // _WORD), dtype=np.uint64)
    marks = np.uint64(1) << (columns % _WORD).astype(np.uint64)
    np.bitwise_or.at(bits, (place + 1, columns // _WORD), marks)
    row_of = np.zeros(terms, dtype=np.int32)
    row_of[found] = np.arange(1, len(found) + 1, dtype=np.int32)
    return Sample(row_of, bits, len(chosen))


def kinds(count: Ints, documents: int) -> Ints:
    """The kind of each term by how many of so many documents hold it."""
    blocks = -(-documents // BLOCK)
    kind = np.full(len(count), RARE, dtype=np.int32)
    table = count >= _POSTINGS_A_BLOCK * max(blocks, 1)
    column = (count * _COMMON_SHARE > documents) & (documents >= BLOCK)
    kind[table & ~column] = np.arange(np.count_nonzero(table & ~column), dtype=np.int32)
    kind[column] = COLUMN - np.arange(np.count_nonzero(column), dtype=np.int32)
    return kind


def impacts(frequency: npt.NDArray[Any], length: npt.ArrayLike, pivot: float) -> Bytes:
    """BM25's part of a term's frequency in a document of a length, as a byte of at least 1.

    tf (k1 + 1) / (tf + k1 (1 - b + b length / pivot)), k1 1.2, b 0.75 (Robertson & Zaragoza 2009).
    """
    slack = K1 * (1.0 - B + B * np.asarray(length) / pivot)
    part = frequency * (K1 + 1.0) / (frequency + slack)
    return np.maximum(np.rint(part * (MOST_IMPACT / MOST_PART)), 1).astype(np.uint8)
