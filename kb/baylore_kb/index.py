"""The index: an immutable snapshot of a shop's cases that finds candidates for a question."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Protocol

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, Reader, car_facet
from baylore_kb.codes import rarity
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.scoring import bm25, bm25_idf, likeness
from baylore_kb.segment import Segment, appended
from baylore_kb.symptoms import Heard, SymptomSpotter
from baylore_kb.tally import Tally
from baylore_kb.text import Analysis, Analyzer
from baylore_kb.tools import tools_for
from baylore_kb.trade import Trade, load
from baylore_kb.values import Case, Complaint
from baylore_kb.vocabulary import Vocabulary

Counts = npt.NDArray[np.int32]
Mask = npt.NDArray[np.bool_]
Floats = npt.NDArray[np.float64]

_PAIR, _KINDRED, _MEASURE = 0.3, 0.2, 0.7
_CODE, _SYMPTOM, _CAR = 1.0, 0.4, 0.25
# Half and half ranks public complaint texts worse; without spelling, misspelt cases are lost.
_CHARS = 0.25
# More dead documents than this and half of the living: the snapshot is built anew.
_MOST_DEAD = 64


class Asked(Protocol):
    """What a question must know to be looked up."""

    @property
    def complaint(self) -> Complaint: ...
    @property
    def analysis(self) -> Analysis: ...
    @property
    def codes(self) -> tuple[str, ...]: ...
    @property
    def heard(self) -> tuple[Heard, ...]: ...
    @property
    def systems(self) -> tuple[str, ...]: ...


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """A past case worth comparing.

    `words` is the share in [0, 1] of the question's weight found in it, `chars` the same for spelling;
    `reasons` name what brought it up: "words", "spelling", and facets such as "code:P0301".
    """

    case: Case
    words: float
    chars: float
    reasons: tuple[str, ...]
    doc: CaseDoc


@dataclass(frozen=True, eq=False)
class Snapshot:
    """All cases of one shop at one revision, with everything the engine needs to answer.

    Immutable: `with_changes` gives the next one and leaves this one right. Cases of the states closed and
    unresolved can be candidates; open ones only lend their words to the vocabulary.
    """

    reader: Reader
    segments: tuple[Segment, ...]
    numbers: Mapping[str, int]
    alive: Mask
    evidence: Mask
    term_counts: Counts
    word_counts: Counts
    tally: Tally
    known_words: Mapping[str, int]
    misheard: Mapping[tuple[str, ...], str]
    revision: int

    @staticmethod
    def build(cases: Iterable[Case], *, trade: Trade | None = None, revision: int = 0) -> Snapshot:
        """A snapshot of these cases; of two with one id the later counts. No cases is fine.

        `trade` None takes the shipped lists.
        """
        tools = tools_for(load() if trade is None else trade)
        book = WordBook()
        book.numbers(sorted(tools.known))
        reader = Reader(tools.analyzer, Lexicon(), book, tools.trade, tools.spotter)
        empty = _empty(reader, tools.known, tools.misheard)
        return empty.with_changes(put=cases, deleted=(), revision=revision)

    def with_changes(self, *, put: Iterable[Case], deleted: Iterable[str], revision: int) -> Snapshot:
        """The snapshot after cases were written or deleted; equal in its answers to one built anew.

        An id of `deleted` that is not there is passed over; one both put and deleted is deleted.
        """
        gone = set(deleted)
        fresh = {case.id: case for case in put if case.id not in gone}
        removed = [number for id in {*gone, *fresh} if (number := self.numbers.get(id)) is not None]
        added = [self.reader.read(case) for case in fresh.values()]
        tally = self.tally.changed(
            removed=[self._doc(number).case for number in removed], added=[doc.case for doc in added]
        )
        changed = self._changed(removed, added, tally, revision=revision)
        return changed._compacted() if changed._dead() > _MOST_DEAD + len(changed.numbers) // 2 else changed

    def with_trade(self, trade: Trade, *, revision: int) -> Snapshot:
        """The same cases under other lists; equal in its answers to one built anew with them.

        Lists that differ only in a shop's own entries leave the cases as they were read, but for those
        whose cause is or was one of these entries. Any other lists build the snapshot anew.
        """
        tools = tools_for(trade)
        if tools.analyzer is not self.analyzer:
            return Snapshot.build(self.cases.values(), trade=trade, revision=revision)
        self.reader.book.numbers(sorted(tools.known.keys() - self.known_words.keys()))
        reader = replace(self.reader, trade=trade, spotter=tools.spotter)
        swapped = replace(self, reader=reader, known_words=tools.known, revision=revision)
        differ = {id for id, _ in self.trade.causes.items() ^ trade.causes.items()}
        stale = [case for case in self.cases.values() if case.cause in differ]
        return swapped.with_changes(put=stale, deleted=(), revision=revision) if stale else swapped

    def _changed(self, removed: list[int], added: list[CaseDoc], tally: Tally, *, revision: int) -> Snapshot:
        first = len(self.alive)
        alive, evidence = _grown(self.alive, first + len(added)), _grown(self.evidence, first + len(added))
        alive[removed] = evidence[removed] = False
        alive[first:] = True
        evidence[first:] = [doc.case.state != "open" for doc in added]
        out = [self._doc(number) for number in removed]
        numbers = {id: n for id, n in self.numbers.items() if alive[n]}
        numbers.update((doc.case.id, number) for number, doc in enumerate(added, first))
        return Snapshot(
            self.reader,
            appended(self.segments, added),
            numbers,
            alive,
            evidence,
            _recounted(
                self.term_counts, len(self.reader.lexicon), [d.terms for d in out], [d.terms for d in added]
            ),
            _recounted(
                self.word_counts, len(self.reader.book), [d.words for d in out], [d.words for d in added]
            ),
            tally,
            self.known_words,
            self.misheard,
            revision,
        )

    def _compacted(self) -> Snapshot:
        """The same living cases without the dead ones between them."""
        docs = [self._doc(number) for number in sorted(self.numbers.values())]
        empty = _empty(self.reader, self.known_words, self.misheard)
        return empty._changed([], docs, self.tally, revision=self.revision)

    def _dead(self) -> int:
        return len(self.alive) - len(self.numbers)

    def _doc(self, number: int) -> CaseDoc:
        for segment in self.segments:
            if number < segment.first + len(segment.docs):
                return segment.docs[number - segment.first]
        raise IndexError(number)

    @property
    def trade(self) -> Trade:
        """The trade lists the snapshot was built with."""
        return self.reader.trade

    @property
    def analyzer(self) -> Analyzer:
        """The one analyzer of index and question."""
        return self.reader.analyzer

    @property
    def spotter(self) -> SymptomSpotter:
        """Hears symptoms and finds components in words."""
        return self.reader.spotter

    @cached_property
    def cases(self) -> Mapping[str, Case]:
        """All cases by id, open ones too."""
        return {id: self._doc(number).case for id, number in self.numbers.items()}

    @cached_property
    def vocabulary(self) -> Vocabulary:
        """The words this shop knows at this revision."""
        return Vocabulary(self.reader.book, self.word_counts, self.known_words, self.misheard)

    @cached_property
    def mean_length(self) -> float:
        """Mean weighted length of the cases in terms, 1 for no cases."""
        lengths = [segment.lengths for segment in self.segments]
        total = float(np.concatenate(lengths)[self.alive].sum()) if lengths else 0.0
        return total / len(self.numbers) if total > 0 else 1.0

    def doc(self, case_id: str) -> CaseDoc:
        """The case as the index holds it. Raises KeyError for an unknown id."""
        return self._doc(self.numbers[case_id])

    def count(self, facet: str) -> int:
        """Living cases with a facet such as "code:P0301" or "symptom:no_heat"."""
        found = (segment.facets.get(facet) for segment in self.segments)
        return sum(int(self.alive[documents].sum()) for documents in found if documents is not None)

    def names(self, kind: str) -> tuple[str, ...]:
        """The makes ("make") or models ("model") the shop's cases name, as it writes them, sorted."""
        found = {f for segment in self.segments for f in segment.facets if f.startswith(f"{kind}:")}
        return tuple(sorted(name for f in found if (name := f.partition(":")[2]) and self.count(f)))

    def term_weights(self, analysis: Analysis) -> dict[str, float]:
        """The question's distinct terms with weight: idf times use, less for pairs and kindred words."""
        uses = Counter(analysis.terms)
        terms = tuple(uses)
        numbers = (self.reader.lexicon.number(term) for term in terms)
        frequency = [self._term_count(number) for number in numbers]
        idf = bm25_idf(len(self.numbers), frequency)
        return {
            term: float(value) * uses[term] * _kind_weight(term)
            for term, value in zip(terms, idf, strict=True)
        }

    def _term_count(self, number: int | None) -> int:
        return int(self.term_counts[number]) if number is not None and number < len(self.term_counts) else 0

    def candidates(
        self, question: Asked, *, limit: int = 200, leave_out: frozenset[str] = frozenset()
    ) -> tuple[Candidate, ...]:
        """Past cases worth comparing with the question, most promising first, at most `limit`.

        By words, by spelling, by shared codes and symptoms, and by the same model with the same system
        at fault, so that a shared rare code is found with no words in common. `leave_out` are case ids.
        """
        size = len(self.alive)
        if not self.evidence.any():
            return ()
        asked = self.evidence.copy()
        asked[[self.numbers[id] for id in leave_out if id in self.numbers]] = False
        # the others must be gone before scaling: a deleted case may hold the best score
        words, chars = (
            self._word_scores(question.analysis) * asked,
            self._char_scores(question.analysis) * asked,
        )
        facets = self._facet_weights(question)
        promise = (1.0 - _CHARS) * _scaled(words) + _CHARS * _scaled(chars) + self._facet_scores(facets, size)
        chosen = self._best(promise * asked, limit)
        return tuple(self._candidate(n, float(words[n]), float(chars[n]), facets) for n in chosen)

    def _candidate(self, number: int, words: float, chars: float, facets: Mapping[str, float]) -> Candidate:
        doc = self._doc(number)
        reasons = [*(["words"] if words > 0 else []), *(["spelling"] if chars > 0 else [])]
        return Candidate(doc.case, words, chars, (*reasons, *sorted(doc.facets & facets.keys())), doc)

    def _best(self, promise: Floats, limit: int) -> list[int]:
        """Numbers of the most promising documents, ties by case id; those without any promise stay out."""
        rounded = np.round(promise, 9)
        found = np.flatnonzero(rounded > 0)
        if len(found) > limit:
            least = np.partition(rounded[found], len(found) - limit)[len(found) - limit]
            found = found[rounded[found] >= least]
        return sorted(found.tolist(), key=lambda n: (-rounded[n], self._doc(n).case.id))[:limit]

    def _word_scores(self, analysis: Analysis) -> Floats:
        weights = self.term_weights(analysis)
        ideal = sum(weights.values())
        if ideal <= 0:
            return np.zeros(len(self.alive))
        numbered = ((self.reader.lexicon.number(term), weight) for term, weight in weights.items())
        terms = {number: weight for number, weight in numbered if number is not None}
        scores = bm25(self.segments, terms, size=len(self.alive), mean_length=self.mean_length)
        return np.minimum(scores / ideal, 1.0)

    def _char_scores(self, analysis: Analysis) -> Floats:
        asked = []
        for word in dict.fromkeys(analysis.words):
            alike = [(n, like**0.5) for n, like in self.reader.book.alike(word, self._holds)]
            count = int(self.word_counts[alike[0][0]]) if alike else 0
            asked.append((float(bm25_idf(len(self.numbers), count)), alike))
        return likeness(self.segments, asked, size=len(self.alive))

    def _holds(self, word: int) -> bool:
        return word < len(self.word_counts) and bool(self.word_counts[word])

    def _facet_weights(self, question: Asked) -> dict[str, float]:
        facets = {f"code:{code}": _CODE * self.code_rarity(code) for code in question.codes}
        for heard in question.heard:
            facets[f"symptom:{heard.symptom}"] = _SYMPTOM * heard.chance
        if question.complaint.vehicle.model:
            for system in question.systems:
                facets[car_facet(question.complaint.vehicle.model, system)] = _CAR
        return facets

    def _facet_scores(self, facets: Mapping[str, float], size: int) -> Floats:
        scores = np.zeros(size)
        for segment in self.segments:
            for facet, weight in facets.items():
                documents = segment.facets.get(facet)
                if documents is not None:
                    scores[documents] += weight
        return scores

    def code_rarity(self, code: str) -> float:
        """How much sharing a code says in this shop, in (0, 1]."""
        return rarity(code, {code: self.count(f"code:{code}")}, len(self.numbers))


def _kind_weight(term: str) -> float:
    bare = term.removeprefix("not_")
    if " " in term:
        return _PAIR
    if bare[0] == "=":
        return _KINDRED
    return _MEASURE if bare[0] == "~" else 1.0


def _scaled(scores: Floats) -> Floats:
    most = float(scores.max(initial=0.0))
    return scores / most if most > 0 else scores


def _empty(reader: Reader, known: Mapping[str, int], misheard: Mapping[tuple[str, ...], str]) -> Snapshot:
    none = np.zeros(0, dtype=np.bool_)
    zero = np.zeros(0, dtype=np.int32)
    return Snapshot(reader, (), {}, none, none, zero, zero, Tally(), known, misheard, 0)


def _grown(mask: Mask, size: int) -> Mask:
    grown = np.zeros(size, dtype=np.bool_)
    grown[: len(mask)] = mask
    return grown


def _recounted(counts: Counts, size: int, out: Iterable[Counts], into: Iterable[Counts]) -> Counts:
    grown = np.zeros(max(size, len(counts)), dtype=np.int32)
    grown[: len(counts)] = counts
    for numbers in out:
        grown[numbers] -= 1
    for numbers in into:
        grown[numbers] += 1
    return grown
