"""The kernels in use: compiled where a compiler is, numpy where none is; both give the same."""

from __future__ import annotations

from typing import Protocol

from baylore_kb.recall import plain
from baylore_kb.recall.layout import Bytes, Ints, Longs, Rows, Sample, Segment
from baylore_kb.recall.plain import Floats, Hits

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
    def weigh(self, terms: Ints, uses: Floats, counts: Ints, *, living: int, sample: Sample) -> Floats: ...


def kernels(*, compile: bool | None = None) -> Kernels:
    """The compiled kernels, or those in numpy where `compile` is False or numba is missing.

    Raises ImportError where compiled ones are asked for (`compile` True) and numba is missing.
    """
    if compile and compiled is None:
        raise ImportError("the compiled kernels need numba: install baylore with it, or leave `compile` out")
    return plain if compile is False or compiled is None else compiled
