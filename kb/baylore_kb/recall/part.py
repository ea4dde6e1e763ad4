"""A part of the text index: a segment with its documents' ids, who of them lives, and a sample."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np

from baylore_kb.recall.kernels import Kernels
from baylore_kb.recall.layout import Bytes, Longs, Rows, Sample, Segment, sampled


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """Documents in the order they came: `order` tells when, `ids` are the caller's.

    `alive` alone changes: a document that is deleted or written anew is marked dead in place.
    """

    segment: Segment
    alive: Bytes
    order: Longs
    ids: Sequence[Hashable]
    sample: Sample

    @staticmethod
    def of(rows: Rows, terms: int, ids: Sequence[Hashable], *, order: Longs, kernels: Kernels) -> Part:
        """A part of these documents, all living."""
        alive = np.ones(len(ids), dtype=np.uint8)
        return Part(kernels.lay(rows, terms), alive, order, ids, sampled(rows, terms))

    @property
    def size(self) -> int:
        """Documents it holds, dead ones too."""
        return len(self.ids)

    def place(self, order: int) -> int | None:
        """Where the document that came as number `order` lies, None when not here."""
        at = int(np.searchsorted(self.order, order))
        return at if at < len(self.order) and self.order[at] == order else None


def merged(parts: Sequence[Part], alive: Sequence[Bytes], *, kernels: Kernels) -> Part:
    """One part of the documents that live by `alive`, neighbours in time, in their order."""
    rows = [kernels.rows_of(part.segment, lives) for part, lives in zip(parts, alive, strict=True)]
    ends, at = [], 0
    for each in rows:
        ends.append(each.ends + at)
        at += len(each.terms)
    terms = max(len(part.segment.count) for part in parts)
    together = Rows(
        np.concatenate([each.terms for each in rows]),
        np.concatenate([each.impact for each in rows]),
        np.concatenate(ends),
        np.concatenate([each.lengths for each in rows]),
    )
    kept = [np.flatnonzero(lives) for lives in alive]
    ids = [part.ids[n] for part, places in zip(parts, kept, strict=True) for n in places.tolist()]
    order = np.concatenate([part.order[places] for part, places in zip(parts, kept, strict=True)])
    return Part.of(together, terms, ids, order=order, kernels=kernels)
