"""Find the past cases worth comparing with a question, by words, spelling and facets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.living import Living, Mask
from baylore_kb.scoring import bm25, bm25_idf, scaled
from baylore_kb.segment import Segment
from baylore_kb.stems import STOP_WORDS, stem
from baylore_kb.terms import weighted
from baylore_kb.text import Analysis
from baylore_kb.together import crowding, level
from baylore_kb.values import Case

Floats = npt.NDArray[np.float64]

# So many past cases are compared feature by feature. Twice as many rank no better on public and made-up sets
# (`tests/quality`): what words, codes and the car bring up last seldom has the same cause.
COMPARED = 100

# A word spelt alike stands in for the asked one, by the square of its likeness: spelling slips in the
# cases are found, and other forms of a word ("lubricating" for "lube") bring a little.
_STAND_IN, _LEAST_ALIKE, _MOST_ALIKE = 0.6, 0.5, 5
# A word used often counts up to 2.2 times: what is found beyond this share nears 1 and never gets there, so
# that of two cases with all the words the one that dwells on them still comes first.
_PLAIN_SHARE = 0.9


class Candidate(NamedTuple):
    """A past case worth comparing.

    `words` is the share in [0, 1) of the question's weight found in it, `chars` the same counting words
    spelt alike; `facets` are the question's, such as "code:P0301".
    """

    case: Case
    words: float
    chars: float
    facets: Set[str]
    doc: CaseDoc

    @property
    def reasons(self) -> tuple[str, ...]:
        """What brought it up: "words", "spelling", and the facets it shares."""
        said = ("words",) if self.words > 0 else ()
        spelt = ("spelling",) if self.chars > self.words else ()
        return (*said, *spelt, *sorted(self.doc.facets & self.facets))


@dataclass(frozen=True, slots=True)
class Search:
    """The documents of a snapshot, ready to be asked."""

    segments: tuple[Segment, ...]
    living: Living
    lexicon: Lexicon
    book: WordBook

    def term_weights(self, analysis: Analysis) -> dict[str, float]:
        """The question's distinct terms with weight: idf times use, divided among words that keep coming
        together in the shop's cases.
        """
        uses = weighted(analysis)
        if not uses:
            return {}
        numbers = [self._number(term) for term in uses]
        idf = bm25_idf(self.living.held, [self._count(number) for number in numbers])
        times = np.fromiter(uses.values(), dtype=np.float64)
        weights = idf * times / self._crowding(numbers, times)
        return dict(zip(uses, weights.tolist(), strict=True))

    def _number(self, term: str) -> int:
        number = self.lexicon.number(term)
        return -1 if number is None else number

    def _count(self, number: int) -> int:
        return int(self.living.terms[number]) if 0 <= number < len(self.living.terms) else 0

    def _crowding(self, numbers: Sequence[int], uses: Floats) -> Floats:
        parts = self._present(numbers, level(self.living.held))
        if not parts:
            return np.ones(len(numbers))
        return crowding(np.concatenate(parts, axis=1), uses)

    def _present(self, numbers: Sequence[int], least: int) -> list[npt.NDArray[np.float32]]:
        return [segment.sample.presence(numbers, self.living.alive, least) for segment in self.segments]

    def best(
        self,
        analysis: Analysis,
        facets: Mapping[str, float],
        *,
        among: Mask,
        limit: int,
        weights: Mapping[str, float] | None = None,
    ) -> list[Candidate]:
        """The most promising documents of `among`, best first, ties by case id, at most `limit`.

        `facets` gives those the question has with what sharing one is worth, `weights` its terms' where they
        are known already.
        """
        weights = self.term_weights(analysis) if weights is None else weights
        ideal = sum(weights.values())
        words = self._scores({self._number(term): weight for term, weight in weights.items()})
        spelt = self._scores(self.stand_ins(analysis, weights))
        promise = self._promise(words + spelt, facets, among=among)
        share = 1.0 / ideal if ideal > 0 else 0.0
        chosen = self._chosen(promise, limit)
        numbers = [number for number, _ in chosen]
        shares = _part_of_all(np.stack([words[numbers], words[numbers] + spelt[numbers]]) * share)
        return [
            Candidate(doc.case, said, spelt_alike, facets.keys(), doc)
            for (_, doc), said, spelt_alike in zip(chosen, *shares.tolist(), strict=True)
        ]

    def _scores(self, weights: Mapping[int, float]) -> Floats:
        known = {number: weight for number, weight in weights.items() if number >= 0 and weight > 0.0}
        return bm25(self.segments, known, size=self.living.size, mean_length=self.living.mean_length)

    def stand_ins(self, analysis: Analysis, weights: Mapping[str, float]) -> dict[int, float]:
        """Terms spelt like an asked one, not asked themselves, each for the word it serves best."""
        found: dict[int, float] = {}
        for word in dict.fromkeys(analysis.words):
            worth = _STAND_IN * weights.get(stem(word), 0.0)
            for number, like in self.alike(word) if worth > 0.0 else ():
                found[number] = max(found.get(number, 0.0), worth * like**2)
        return {number: worth for number, worth in found.items() if self.lexicon.terms[number] not in weights}

    def alike(self, word: str) -> list[tuple[int, float]]:
        """Numbers of the terms whose words are spelt like this one, most alike first, in [0, 1]."""
        near = self.book.alike(word, self._held, least=_LEAST_ALIKE, most=_MOST_ALIKE)
        return self.by_roots([(self.book.terms[n], like) for n, like in near])

    def by_roots(self, words: Sequence[tuple[str, float]]) -> list[tuple[int, float]]:
        """Words with their likeness by the numbers of their roots, those that no case holds left out."""
        roots = ((stem(word), like) for word, like in words)
        numbered = ((self._number(root), like) for root, like in roots if root not in STOP_WORDS)
        return [(number, like) for number, like in numbered if number >= 0]

    def _held(self, word: int) -> bool:
        return word < len(self.living.words) and bool(self.living.words[word])

    def _promise(self, scores: Floats, facets: Mapping[str, float], *, among: Mask) -> Floats:
        """The scores by the best of them, and what the shared facets are worth on top; 0 outside `among`."""
        scores *= among
        promise = scaled(scores)
        for segment in self.segments:
            for facet, weight in facets.items():
                documents = segment.facets.get(facet)
                if documents is not None:
                    promise[documents] += weight * among[documents]
        return promise

    def _chosen(self, promise: Floats, limit: int) -> list[tuple[int, CaseDoc]]:
        rounded = np.round(promise, 9)
        found = np.flatnonzero(rounded > 0)
        if len(found) > limit:
            least = np.partition(rounded[found], len(found) - limit)[len(found) - limit]
            found = found[rounded[found] >= least]
        numbers = found.tolist()
        docs = [self.doc(number) for number in numbers]
        ids = [doc.case.id for doc in docs]
        held = sorted(zip((-rounded[found]).tolist(), ids, numbers, docs, strict=True))
        return [(number, doc) for _, _, number, doc in held[:limit]]

    def doc(self, number: int) -> CaseDoc:
        """The document of a number. Raises IndexError for one never given."""
        for segment in self.segments:
            if number < segment.first + len(segment.docs):
                return segment.docs[number - segment.first]
        raise IndexError(number)


def _part_of_all(found: Floats) -> Floats:
    """Shares (...) of 0 or more brought into [0, 1) in the same order; small ones stay as they are."""
    beyond = 1.0 - np.exp(-np.maximum(found - _PLAIN_SHARE, 0.0) / (1.0 - _PLAIN_SHARE))
    return np.minimum(found, _PLAIN_SHARE) + (1.0 - _PLAIN_SHARE) * beyond
