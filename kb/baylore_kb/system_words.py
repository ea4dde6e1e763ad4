"""How the faults of each system sound in a shop's own stories, so that a new story tells its system.

A system that no list describes is known by the shop's past cases alone. All systems of the shop stand beside
each other, listed ones too: a story that is plainly about brakes leaves little for the shop's own.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from immutables import Map

from baylore_kb.casedoc import CaseDoc
from baylore_kb.tally import weight_of

Floats = npt.NDArray[np.float64]

# Shares go as exp(SHARPNESS * cosine). On public complaints 20 to 40 rank alike, and 2 to 10 of the next.
SHARPNESS = 30.0
# With so many cases of a system half is known of how it sounds.
HALF_KNOWN = 5.0
# Stories are summed in whole parts of this size, so that the order of changes leaves no trace.
PARTS = 2.0**20
_SYSTEM = "system:"


class Sound(NamedTuple):
    """`share` of the suspicion that a story's words lay on a system; `known`: how far, in [0, 1), the shop's
    cases tell how that one sounds.
    """

    share: float
    known: float


class Told(NamedTuple):
    """The stories of one system: how many cases they count, and by the number of each term its sum."""

    cases: float
    terms: Floats


_NOTHING = Told(0.0, np.zeros(0))


@dataclass(frozen=True, slots=True)
class Stories:
    """The closed cases of each system as sums of their words; a verified cure counts 1, others 0.5.

    Each story has length 1, however long it is: a term counts as ln(1 + its weight). Cases without a cause,
    a system or words count nothing.
    """

    told: Map[str, Told]

    @staticmethod
    def of(docs: Iterable[CaseDoc]) -> Stories:
        """The sums of these cases."""
        return Stories(Map()).changed(added=docs)

    def changed(self, *, removed: Iterable[CaseDoc] = (), added: Iterable[CaseDoc] = ()) -> Stories:
        """The sums after cases went and came; `removed` must be as they were when added."""
        told = self.told.mutate()
        for docs, sign in ((removed, -1.0), (added, 1.0)):
            for system, theirs in _by_system(docs).items():
                left = _joined(told.get(system, _NOTHING), _summed(theirs), sign)
                if left.cases > 0.0:
                    told[system] = left
                else:
                    del told[system]
        return Stories(told.finish())


@dataclass(frozen=True, slots=True)
class SystemWords:
    """Stories weighed by how rare each term is in the shop: `idf` by its number, `lengths` by system."""

    stories: Stories
    idf: Floats
    lengths: Mapping[str, float]

    @staticmethod
    def of(stories: Stories, idf: Floats) -> SystemWords:
        """These stories; `idf` has every term of theirs."""
        lengths = {system: _length(told, idf) for system, told in stories.told.items()}
        return SystemWords(stories, idf, lengths)

    def without(self, docs: Iterable[CaseDoc]) -> SystemWords:
        """The same without some of the cases; no cases give it back."""
        stories = self.stories.changed(removed=docs)
        before = self.stories.told
        lengths = {
            system: self.lengths[system] if told is before[system] else _length(told, self.idf)
            for system, told in stories.told.items()
        }
        return SystemWords(stories, self.idf, lengths)

    def sounds(self, terms: Mapping[int, float]) -> dict[str, Sound]:
        """How far a story sounds like each system; `terms` are its weights by number, idf included.

        The shares sum to 1. A story without weight sounds like nothing: {}.
        """
        numbers = np.fromiter(terms, dtype=np.int64)
        weights = np.fromiter(terms.values(), dtype=np.float64)
        length = float(np.linalg.norm(weights))
        if not length or not self.stories.told:
            return {}
        asked = weights * self.idf[numbers] / length
        told = self.stories.told
        dots = [_dot(numbers, asked, told[system].terms) for system in self.lengths]
        lengths = np.fromiter(self.lengths.values(), dtype=np.float64)
        cosines = np.divide(dots, lengths, out=np.zeros(len(lengths)), where=lengths > 0.0)
        rises = np.exp(SHARPNESS * (cosines - cosines.max()))
        shares = (rises / rises.sum()).tolist()
        return {s: Sound(share, _known(told[s])) for s, share in zip(self.lengths, shares, strict=True)}


def _known(told: Told) -> float:
    return told.cases / (told.cases + HALF_KNOWN)


def _length(told: Told, idf: Floats) -> float:
    return float(np.linalg.norm(told.terms * idf[: len(told.terms)]))


def _dot(numbers: npt.NDArray[np.int64], weights: Floats, terms: Floats) -> float:
    """What a system's stories hold of some terms; terms beyond theirs are in none of them."""
    here = numbers < len(terms)
    return float(terms[numbers[here]] @ weights[here])


def _by_system(docs: Iterable[CaseDoc]) -> Mapping[str, list[CaseDoc]]:
    """The cases that count, by the system they were read under."""
    found: dict[str, list[CaseDoc]] = defaultdict(list)
    for doc in docs:
        system = next((facet[len(_SYSTEM) :] for facet in doc.facets if facet.startswith(_SYSTEM)), None)
        if system is not None and len(doc.terms) and weight_of(doc.case):
            found[system].append(doc)
    return found


def _summed(docs: Sequence[CaseDoc]) -> Told:
    counts = np.array([weight_of(doc.case) for doc in docs])
    owners = np.repeat(np.arange(len(docs)), [len(doc.terms) for doc in docs])
    uses = np.log1p(np.concatenate([doc.weights for doc in docs]), dtype=np.float64)
    lengths = np.sqrt(np.bincount(owners, uses * uses))
    parts = np.rint(PARTS * uses * (counts / lengths)[owners])
    terms = np.bincount(np.concatenate([doc.terms for doc in docs]), parts)
    return Told(float(counts.sum()), np.asarray(terms, dtype=np.float64))


def _joined(told: Told, more: Told, sign: float) -> Told:
    terms = np.zeros(max(len(told.terms), len(more.terms)))
    terms[: len(told.terms)] = told.terms
    terms[: len(more.terms)] += sign * more.terms
    return Told(told.cases + sign * more.cases, terms)
