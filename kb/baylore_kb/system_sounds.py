"""How the faults of each system sound in a shop's own stories, so that a new story tells its system.

A system that no list describes is known by the shop's past cases alone: by their words and the symptoms heard
in them. All systems of the shop stand beside each other, listed ones too: a story that is plainly of brakes
leaves little for the shop's own.
"""

from __future__ import annotations

import math
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

# Shares go as exp(BY_WORDS * cosine of the words + BY_SYMPTOMS * cosine of the symptoms heard). On public
# complaints 20 to 40 and 1 to 6 rank alike, and so do 2 to 10 of the next.
BY_WORDS, BY_SYMPTOMS = 30.0, 3.0
# With so many cases of a system half is known of how it sounds.
HALF_KNOWN = 5.0
# Stories are summed in whole parts of this size, so that the order of changes leaves no trace.
PARTS = 2.0**20
_SYSTEM = "system:"


class Sound(NamedTuple):
    """`share` of the suspicion that a story lays on a system; `known`: how far, in [0, 1), the shop's
    cases tell how that one sounds.
    """

    share: float
    known: float


class Told(NamedTuple):
    """The stories of one system: how many cases they count, sums by term (its number) and by symptom."""

    cases: float
    terms: Floats
    symptoms: Mapping[str, float]


_NOTHING = Told(0.0, np.zeros(0), {})


class _Lengths(NamedTuple):
    words: float
    symptoms: float


@dataclass(frozen=True, slots=True)
class Stories:
    """The closed cases of each system as sums of what was said and heard.

    A verified cure counts 1, others 0.5. Each story has length 1 in its words and in its symptoms, however
    long it is: a term counts as ln(1 + its weight), a symptom by its chance. Cases without a cause, a system
    or words count nothing.
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
class SystemSounds:
    """Stories weighed by how rare each term is in the shop: `idf` by its number, `lengths` by system."""

    stories: Stories
    idf: Floats
    lengths: Mapping[str, _Lengths]

    @staticmethod
    def of(stories: Stories, idf: Floats) -> SystemSounds:
        """These stories; `idf` has every term of theirs."""
        lengths = {system: _lengths(told, idf) for system, told in stories.told.items()}
        return SystemSounds(stories, idf, lengths)

    def without(self, docs: Iterable[CaseDoc]) -> SystemSounds:
        """The same without some of the cases; no cases give it back."""
        stories = self.stories.changed(removed=docs)
        before = self.stories.told
        lengths = {
            system: self.lengths[system] if told is before[system] else _lengths(told, self.idf)
            for system, told in stories.told.items()
        }
        return SystemSounds(stories, self.idf, lengths)

    def sounds(self, terms: Mapping[int, float], symptoms: Mapping[str, float]) -> dict[str, Sound]:
        """How far a story sounds like each system, by its terms' weights by number, idf included, and the
        chances of its symptoms.

        The shares sum to 1. A story with neither sounds like nothing: {}.
        """
        if not self.stories.told or not (any(terms.values()) or any(symptoms.values())):
            return {}
        rises = BY_WORDS * self._words(terms) + BY_SYMPTOMS * self._symptoms(symptoms)
        shares = np.exp(rises - rises.max())
        told = self.stories.told
        systems = zip(self.lengths, (shares / shares.sum()).tolist(), strict=True)
        return {system: Sound(share, _known(told[system])) for system, share in systems}

    def _words(self, terms: Mapping[int, float]) -> Floats:
        """(systems) cosines of the words."""
        numbers = np.fromiter(terms, dtype=np.int64)
        weights = np.fromiter(terms.values(), dtype=np.float64)
        asked = weights * self.idf[numbers]
        dots = [_dot(numbers, asked, self.stories.told[system].terms) for system in self.lengths]
        return _cosines(dots, [each.words for each in self.lengths.values()], float(np.linalg.norm(weights)))

    def _symptoms(self, heard: Mapping[str, float]) -> Floats:
        """(systems) cosines of the symptoms."""
        told = (self.stories.told[system].symptoms for system in self.lengths)
        dots = [sum(chance * theirs.get(id, 0.0) for id, chance in heard.items()) for theirs in told]
        return _cosines(dots, [each.symptoms for each in self.lengths.values()], _norm(heard))


def _cosines(dots: Sequence[float], lengths: Sequence[float], length: float) -> Floats:
    both = np.asarray(lengths) * length
    return np.divide(dots, both, out=np.zeros(len(both)), where=both > 0.0)


def _known(told: Told) -> float:
    return told.cases / (told.cases + HALF_KNOWN)


def _lengths(told: Told, idf: Floats) -> _Lengths:
    words = np.linalg.norm(told.terms * idf[: len(told.terms)])
    return _Lengths(float(words), _norm(told.symptoms))


def _norm(symptoms: Mapping[str, float]) -> float:
    return math.hypot(*symptoms.values())


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
    return Told(float(counts.sum()), np.asarray(terms, dtype=np.float64), _heard(docs))


def _heard(docs: Sequence[CaseDoc]) -> dict[str, float]:
    sums: dict[str, float] = defaultdict(float)
    for doc in docs:
        share = weight_of(doc.case) / (_norm(doc.symptoms) or 1.0)
        for symptom, chance in doc.symptoms.items():
            sums[symptom] += round(PARTS * share * chance)
    return dict(sums)


def _joined(told: Told, more: Told, sign: float) -> Told:
    terms = np.zeros(max(len(told.terms), len(more.terms)))
    terms[: len(told.terms)] = told.terms
    terms[: len(more.terms)] += sign * more.terms
    changed = {id: told.symptoms.get(id, 0.0) + sign * parts for id, parts in more.symptoms.items()}
    symptoms = {id: parts for id, parts in {**told.symptoms, **changed}.items() if parts}
    return Told(told.cases + sign * more.cases, terms, symptoms)
