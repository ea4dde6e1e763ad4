"""A part of the postings: a segment, when each of its documents came, who of them lives, and a sample."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.recall.kernels import Kernels
from baylore_kb.recall.layout import Bytes, Lengths, Longs, Rows, Sample, Segment, sampled


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """Documents in the order they came: `order` are their numbers, ascending; `alive` is 0 for the dead."""

    segment: Segment
    alive: Bytes
    order: Longs
    sample: Sample

    @staticmethod
    def of(rows: Rows, order: Longs, kernels: Kernels) -> Part:
        """A part of these documents, all living."""
        terms = int(rows.terms.max(initial=-1)) + 1
        alive = np.ones(len(order), dtype=np.uint8)
        return Part(kernels.lay(rows, terms), alive, order, sampled(rows, terms))

    @property
    def size(self) -> int:
        """Documents it holds, dead ones too."""
        return len(self.order)

    @property
    def nbytes(self) -> int:
        """Bytes of all arrays."""
        held = (self.alive, self.order, self.sample.row_of, self.sample.bits)
        return self.segment.nbytes + sum(each.nbytes for each in held)

    def without(self, orders: Longs) -> tuple[Part, Lengths]:
        """This with the documents of these numbers dead, and the lengths of those that lived till now."""
        at = np.searchsorted(self.order, orders)
        at = at[at < self.size][self.order[at[at < self.size]] == orders[at < self.size]]
        at = np.unique(at[self.alive[at] > 0])
        if not len(at):
            return self, self.segment.lengths[:0]
        alive = self.alive.copy()
        alive[at] = 0
        return replace(self, alive=alive), self.segment.lengths[at]

    def since(self, order: int) -> Part:
        """This with all documents dead that came before number `order`."""
        return replace(self, alive=self.alive * (self.order >= order).astype(np.uint8))


def joined(parts: Sequence[Part], kernels: Kernels) -> tuple[Part, ...]:
    """Parts that at least halve from one to the next, the dead left out of what is joined."""
    kept: list[Part] = []
    for part in parts:
        run = [part]
        while kept and kept[-1].size < 2 * sum(each.size for each in run):
            run.insert(0, kept.pop())
        if len(run) > 1 or 2 * int(part.alive.sum()) < part.size:
            part = merged(run, kernels)
        kept.append(part)
    return tuple(part for part in kept if part.size)


def merged(parts: Sequence[Part], kernels: Kernels) -> Part:
    """One part of the living documents of parts that are neighbours in time, in their order."""
    rows = [kernels.rows_of(part.segment, part.alive) for part in parts]
    ends, at = [], 0
    for each in rows:
        ends.append(each.ends + at)
        at += len(each.terms)
    together = Rows(
        np.concatenate([each.terms for each in rows]),
        np.concatenate([each.impact for each in rows]),
        np.concatenate(ends),
        np.concatenate([each.lengths for each in rows]),
    )
    order = np.concatenate([part.order[part.alive > 0] for part in parts])
    return Part.of(together, order, kernels)
