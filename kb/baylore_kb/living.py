"""Which documents of a snapshot live, and how many of them hold each term, word and facet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
from immutables import Map

from baylore_kb.casedoc import CaseDoc
from baylore_kb.lexicon import Numbers

Counts = npt.NDArray[np.int32]
Mask = npt.NDArray[np.bool_]
_LENGTH_UNITS = 1000


@dataclass(frozen=True, slots=True, eq=False)
class Living:
    """The state of a snapshot's documents; `changed` gives the next and leaves this one right.

    `numbers` gives each case id its document, `evidence` marks those that can be candidates, `facets` counts
    living documents by kind of facet and name. Lengths are summed in thousandths, so that the order of
    changes leaves no trace. `elsewhere` are living documents that are counted without being numbered here.
    """

    numbers: Map[str, int]
    alive: Mask
    evidence: Mask
    terms: Counts
    words: Counts
    facets: Map[str, Map[str, int]]
    length: int
    elsewhere: int = 0

    @staticmethod
    def none() -> Living:
        """No documents at all."""
        nobody, zero = np.zeros(0, dtype=np.bool_), np.zeros(0, dtype=np.int32)
        return Living(Map(), nobody, nobody, zero, zero, Map(), 0)

    @property
    def size(self) -> int:
        """Documents ever numbered since the snapshot was last made compact, dead ones too."""
        return len(self.alive)

    @property
    def held(self) -> int:
        """Living documents, those elsewhere too."""
        return len(self.numbers) + self.elsewhere

    @property
    def mean_length(self) -> float:
        """Mean weighted length of the living documents in terms, 1 for none."""
        return self.length / _LENGTH_UNITS / self.held if self.length > 0 else 1.0

    def count(self, facet: str) -> int:
        """Living documents with a facet such as "code:P0301"."""
        kind, _, name = facet.partition(":")
        return self.facets.get(kind, Map()).get(name, 0)

    def changed(
        self, removed: Sequence[CaseDoc], added: Sequence[CaseDoc], *, terms: int, words: int
    ) -> Living:
        """After documents went and others were numbered from `size` on; `terms` and `words` are how many
        of either have a number by now.
        """
        first = self.size
        gone = [self.numbers[doc.case.id] for doc in removed]
        alive, evidence = _grown(self.alive, first + len(added)), _grown(self.evidence, first + len(added))
        alive[gone] = evidence[gone] = False
        alive[first:] = True
        evidence[first:] = [doc.case.state != "open" for doc in added]
        counted = self.counted(removed, added, terms=terms, words=words)
        return replace(
            counted,
            numbers=_renumbered(self.numbers, removed, added, first=first),
            alive=alive,
            evidence=evidence,
            elsewhere=self.elsewhere,
        )

    def counted(
        self, removed: Sequence[CaseDoc], added: Sequence[CaseDoc], *, terms: int, words: int
    ) -> Living:
        """After documents elsewhere went and others came: all is counted, nothing is numbered."""
        return replace(
            self,
            terms=_recounted(self.terms, terms, removed, added, of=lambda doc: doc.terms),
            words=_recounted(self.words, words, removed, added, of=lambda doc: doc.words),
            facets=_refaceted(self.facets, removed, added),
            length=self.length + _length(added) - _length(removed),
            elsewhere=self.elsewhere + len(added) - len(removed),
        )


def _length(docs: Iterable[CaseDoc]) -> int:
    return sum(round(doc.length * _LENGTH_UNITS) for doc in docs)


def _grown(mask: Mask, size: int) -> Mask:
    grown = np.zeros(size, dtype=np.bool_)
    grown[: len(mask)] = mask
    return grown


def _renumbered(
    numbers: Map[str, int], removed: Sequence[CaseDoc], added: Sequence[CaseDoc], *, first: int
) -> Map[str, int]:
    draft = numbers.mutate()
    for doc in removed:
        del draft[doc.case.id]
    for number, doc in enumerate(added, first):
        draft[doc.case.id] = number
    return draft.finish()


def _recounted(
    counts: Counts,
    size: int,
    removed: Sequence[CaseDoc],
    added: Sequence[CaseDoc],
    *,
    of: Callable[[CaseDoc], Numbers],
) -> Counts:
    grown = np.zeros(max(size, len(counts)), dtype=np.int32)
    grown[: len(counts)] = counts
    for docs, sign in ((removed, -1), (added, 1)):
        if docs:
            held = np.bincount(np.concatenate([of(doc) for doc in docs]), minlength=len(grown))
            grown += sign * held.astype(np.int32)
    return grown


def _refaceted(
    facets: Map[str, Map[str, int]], removed: Iterable[CaseDoc], added: Iterable[CaseDoc]
) -> Map[str, Map[str, int]]:
    change = Counter[str]()
    for doc in added:
        change.update(doc.facets)
    for doc in removed:
        change.subtract(doc.facets)
    for facet, by in change.items():
        kind, _, name = facet.partition(":")
        held = facets.get(kind, Map())
        left = held.get(name, 0) + by
        facets = facets.set(kind, held.set(name, left) if left else _without(held, name))
    return facets


def _without(held: Map[str, int], name: str) -> Map[str, int]:
    return held.delete(name) if name in held else held
