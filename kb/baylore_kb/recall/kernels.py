"""The kernels in use: compiled where a compiler is, numpy where none is; both give the same."""

from __future__ import annotations

from functools import cache
from typing import Protocol

import numpy as np

from baylore_kb.recall import plain
from baylore_kb.recall.layout import Bytes, Ints, Longs, Rows, Sample, Segment, sampled
from baylore_kb.recall.plain import Floats, Hits, Weights

try:
    from baylore_kb.recall import compiled
except ImportError:  # numba is optional
    compiled = None  # type: ignore[assignment]


class Kernels(Protocol):
    """What works on postings; see `plain` for what each does."""

    def distinct(self, flat: Ints, ends: Longs, terms: int) -> tuple[Ints, Bytes, Longs]: ...
    def lay(self, rows: Rows, terms: int) -> Segment: ...
    def rows_of(self, segment: Segment, alive: Bytes) -> Rows: ...
    def best(self, segment: Segment, alive: Bytes, asked: tuple[Ints, Ints], k: int) -> Hits: ...
    def weigh(
        self, terms: Ints, uses: Floats, held: tuple[Ints, Ints], *, living: int, sample: Sample
    ) -> Weights: ...


def kernels(*, compile: bool | None = None) -> Kernels:
    """The compiled kernels, or those in numpy where `compile` is False or numba is missing.

    Raises ImportError where compiled ones are asked for (`compile` True) and numba is missing.
    """
    if compile and compiled is None:
        raise ImportError("the compiled kernels need numba: install baylore with it, or leave `compile` out")
    if compile is False or compiled is None:
        return plain
    _ready()
    return compiled


@cache
def _ready() -> None:
    """Use each kernel once: the first use of one, compiling or loading it, would keep a question waiting."""
    found: Kernels = compiled
    flat, ends = np.array([0, 1, 1], dtype=np.int32), np.array([2, 3], dtype=np.int64)
    terms, counts, places = found.distinct(flat, ends, 2)
    rows = Rows(terms, counts, places, np.array([2, 1], dtype=np.float32))
    segment, alive = found.lay(rows, 2), np.ones(2, dtype=np.uint8)
    asked = np.array([1], dtype=np.int32)
    sample = sampled(found.rows_of(segment, alive), 2)
    weights, _ = found.weigh(asked, np.ones(1), (segment.count, asked), living=2, sample=sample)
    found.best(segment, alive, (asked, weights), 1)
