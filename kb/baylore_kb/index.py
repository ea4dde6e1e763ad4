"""The index: an immutable snapshot of a shop's cases that finds candidates for a question."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Protocol

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, Reader, car_facet
from baylore_kb.codes import rarity
from baylore_kb.fitted import fitted, with_returns
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.living import Living
from baylore_kb.search import COMPARED, Candidate, Search
from baylore_kb.segment import Segment, appended, dead_held, joined, swept
from baylore_kb.seldom import seldom
from baylore_kb.senses import telling_words
from baylore_kb.symptoms import Heard, SymptomSpotter
from baylore_kb.system_sounds import Stories, SystemSounds
from baylore_kb.tally import Tally
from baylore_kb.text import Analysis, Analyzer
from baylore_kb.tfidf import smooth_idf
from baylore_kb.tools import Tools, tools_for
from baylore_kb.trade import Trade, load
from baylore_kb.trade.own import meanings, shipped_of
from baylore_kb.values import Case, Complaint
from baylore_kb.vehicle import Cars
from baylore_kb.vocabulary import Phrase, Vocabulary

__all__ = ["Asked", "Candidate", "Snapshot"]

_CODE, _SYMPTOM, _CAR = 1.0, 0.4, 0.25
# More dead documents than this and half of the living: the snapshot is made compact.
_MOST_DEAD = 64
# From so many segments on it pays to join them.
_MANY_SEGMENTS = 12


class Asked(Protocol):
    """What a question must know to be looked up."""

    @property
    def complaint(self) -> Complaint: ...
    @property
    def analysis(self) -> Analysis: ...
    @property
    def weights(self) -> Mapping[str, float]: ...
    @property
    def codes(self) -> tuple[str, ...]: ...
    @property
    def heard(self) -> tuple[Heard, ...]: ...
    @property
    def systems(self) -> Iterable[str]: ...


class Cases(Mapping[str, Case]):
    """The living cases of a snapshot by id, looked up where they lie."""

    def __init__(self, snapshot: Snapshot) -> None:
        self._snapshot = snapshot

    def __getitem__(self, id: str) -> Case:
        return self._snapshot.doc(id).case

    def __iter__(self) -> Iterator[str]:
        return iter(self._snapshot.living.numbers)

    def __len__(self) -> int:
        return len(self._snapshot.living.numbers)

    def __contains__(self, id: object) -> bool:
        return id in self._snapshot.living.numbers


@dataclass(frozen=True, eq=False)
class Snapshot:
    """All cases of one shop at one revision, with everything the engine needs to answer.

    Immutable: `with_changes` gives the next one and leaves this one right. Cases of the states closed and
    unresolved can be candidates; open ones only lend their words to the vocabulary. `stories` are kept where
    a system is the shop's own, None elsewhere.
    """

    reader: Reader
    segments: tuple[Segment, ...]
    living: Living
    tally: Tally
    known_words: Mapping[str, int]
    phrases: Mapping[tuple[str, ...], Phrase]
    revision: int
    stories: Stories | None

    @staticmethod
    def build(cases: Iterable[Case], *, trade: Trade | None = None, revision: int = 0) -> Snapshot:
        """A snapshot of these cases; of two with one id the later counts. No cases is fine.

        `trade` None takes the shipped lists.
        """
        tools = tools_for(load() if trade is None else trade)
        book = WordBook()
        book.numbers(sorted(tools.known))
        reader = Reader(tools.analyzer, Lexicon(), book, tools.trade, tools.spotter)
        empty = Snapshot(reader, (), Living.none(), Tally(), tools.known, tools.phrases, 0, stories=None)
        return empty.with_changes(put=cases, deleted=(), revision=revision)

    @staticmethod
    def of_docs(docs: Sequence[CaseDoc], reader: Reader, tools: Tools, *, revision: int) -> Snapshot:
        """A snapshot of cases that were read before with this reader, each id once."""
        tally = Tally.of(doc.case for doc in docs)
        empty = Snapshot(reader, (), Living.none(), tally, tools.known, tools.phrases, revision, stories=None)
        living = empty._lived(empty.living, [], docs)
        return replace(empty, segments=appended((), docs), living=living)._retold([], docs)

    def with_changes(self, *, put: Iterable[Case], deleted: Iterable[str], revision: int) -> Snapshot:
        """The snapshot after cases were written or deleted; equal in its answers to one built anew.

        An id of `deleted` that is not there is passed over; one both put and deleted is deleted.
        """
        gone = set(deleted)
        fresh = {case.id: case for case in put if case.id not in gone}
        removed = [self.doc(id) for id in sorted({*gone, *fresh}) if id in self.living.numbers]
        added = [self.reader.read(case) for case in fresh.values()]
        tally = self.tally.changed(removed=[doc.case for doc in removed], added=[doc.case for doc in added])
        changed = replace(
            self,
            segments=appended(self.segments, added),
            living=self._lived(self.living, removed, added),
            tally=tally,
            revision=revision,
        )._retold(removed, added)
        return changed.compacted() if changed._mostly_dead() else changed

    def with_trade(self, trade: Trade, *, revision: int) -> Snapshot:
        """The same cases under other lists; equal in its answers to one built anew with them.

        Lists that differ only in a shop's own entries leave the cases as they were read, but for those
        whose cause is or was one of these entries and those that hold a word whose meaning changed. Any other
        lists build the snapshot anew.
        """
        tools = tools_for(trade)
        if shipped_of(trade) is not shipped_of(self.trade):
            return Snapshot.build(self.cases.values(), trade=trade, revision=revision)
        self.reader.book.numbers(sorted(tools.known.keys() - self.known_words.keys()))
        reader = replace(self.reader, trade=trade, spotter=tools.spotter, analyzer=tools.analyzer)
        swapped = replace(self, reader=reader, known_words=tools.known, revision=revision)
        differ = {id for id, _ in self.trade.causes.items() ^ trade.causes.items()}
        reworded = self._holding({word for word, _ in meanings(self.trade).items() ^ meanings(trade).items()})
        stale = [case for id, case in self.cases.items() if id in reworded or case.cause in differ]
        return swapped.with_changes(put=stale, deleted=(), revision=revision) if stale else swapped

    def compacted(self) -> Snapshot:
        """The same living cases in few segments, without the dead ones between them.

        Answers stay the same. Takes time in the number of cases; the older snapshot answers meanwhile.
        """
        living = list(self.living_docs())
        return replace(self, segments=appended((), living), living=self._lived(Living.none(), [], living))

    def joined(self) -> Snapshot:
        """The same snapshot with its many small segments joined and nothing held of the dead; answers stay
        the same.
        """
        return replace(self, segments=joined(swept(self.segments, self.living.alive)))

    @property
    def scattered(self) -> bool:
        """Whether so many changes came one at a time that `joined` pays."""
        many = len(self.segments) >= _MANY_SEGMENTS
        return many or dead_held(self.segments, self.living.alive) > _MOST_DEAD

    def _holding(self, phrases: Iterable[str]) -> set[str]:
        """Ids of the cases, dead ones too, that hold all the telling words of one of the phrases."""
        wanted = [[self.reader.book.number(word) for word in telling_words(phrase)] for phrase in phrases]
        return {
            segment.docs[at].case.id
            for segment in (self.segments if wanted else ())
            for numbers in wanted
            for at in segment.holding(numbers)
        }

    def _lived(self, before: Living, removed: Sequence[CaseDoc], added: Sequence[CaseDoc]) -> Living:
        return before.changed(removed, added, terms=len(self.reader.lexicon), words=len(self.reader.book))

    def _retold(self, removed: Sequence[CaseDoc], added: Sequence[CaseDoc]) -> Snapshot:
        """With its systems' stories as they are after these cases went and came."""
        if not self.names_systems:
            return replace(self, stories=None) if self.stories else self
        if self.stories is None:
            return replace(self, stories=Stories.of(self.living_docs()))
        return replace(self, stories=self.stories.changed(removed=removed, added=added))

    def living_docs(self) -> Iterator[CaseDoc]:
        """The cases as the index holds them, in the order of their numbers."""
        return (doc for segment in self.segments for doc in segment.docs if self._lives(doc))

    def _lives(self, doc: CaseDoc) -> bool:
        number = self.living.numbers.get(doc.case.id)
        return number is not None and self.search.doc(number) is doc

    def _mostly_dead(self) -> bool:
        living = len(self.living.numbers)
        return self.living.size - living > _MOST_DEAD + living // 2

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

    @property
    def cases(self) -> Mapping[str, Case]:
        """All cases by id, open ones too."""
        return Cases(self)

    def part_cases(self, component: str) -> list[Case]:
        """The cases that tell which parts of a component cure; none where none was fitted."""
        return with_returns(fitted(self.segments, self.living.alive, component), self.cases)

    @cached_property
    def vocabulary(self) -> Vocabulary:
        """The words this shop knows at this revision."""
        short_hand = tools_for(self.trade).short_hand
        return Vocabulary(self.reader.book, self.living.words, self.known_words, self.phrases, short_hand)

    @cached_property
    def search(self) -> Search:
        """What finds the candidates."""
        return Search(self.segments, self.living, self.reader.lexicon, self.reader.book)

    @property
    def names_systems(self) -> bool:
        """Whether cases lie under a system that no list has."""
        return any(system not in self.trade.systems for system in self.living.facets.get("system", ()))

    @cached_property
    def system_sounds(self) -> SystemSounds | None:
        """How each system sounds in this shop; None where none is the shop's own."""
        if self.stories is None:
            return None
        return SystemSounds.of(self.stories, self.idf)

    def docs(self, ids: Iterable[str]) -> list[CaseDoc]:
        """The cases of these ids as the index holds them; unknown ids are passed over."""
        return [self.doc(id) for id in ids if id in self.living.numbers]

    def doc(self, case_id: str) -> CaseDoc:
        """The case as the index holds it. Raises KeyError for an unknown id."""
        return self.search.doc(self.living.numbers[case_id])

    def count(self, facet: str) -> int:
        """Living cases with a facet such as "code:P0301" or "symptom:no_heat"."""
        return self.living.count(facet)

    def seldom(self, facet: str) -> float:
        """How much sharing a facet says in this shop, in (0, 1]."""
        return seldom(self.living.count(facet), self.living.held)

    @cached_property
    def idf(self) -> npt.NDArray[np.float64]:
        """The smoothed idf of each term by its number."""
        return smooth_idf(self.living.held, self.living.terms)

    @cached_property
    def cars(self) -> Cars:
        """The kinds of cars the shop's cases name."""
        facets = self.living.facets
        return Cars(facets.get("pair", {}), facets.get("built", {}))

    def term_weights(self, analysis: Analysis) -> dict[str, float]:
        """The question's distinct terms with what each says in this shop, as `Search.term_weights`."""
        return self.search.term_weights(analysis)

    def numbered(self, terms: Iterable[str]) -> dict[int, str]:
        """The terms the shop's cases have, by number."""
        numbers = ((term, self.reader.lexicon.number(term)) for term in terms)
        known = len(self.living.terms)
        return {number: term for term, number in numbers if number is not None and number < known}

    def candidates(
        self, question: Asked, *, limit: int = COMPARED, leave_out: frozenset[str] = frozenset()
    ) -> tuple[Candidate, ...]:
        """Past cases worth comparing with the question, most promising first, at most `limit`.

        By words, by spelling, by shared codes and symptoms, and by the same model with the same system
        at fault, so that a shared rare code is found with no words in common. `leave_out` are case ids.
        """
        among = self.living.evidence.copy()
        among[[number for id in leave_out if (number := self.living.numbers.get(id)) is not None]] = False
        if not among.any():
            return ()
        facets = self.facet_weights(question)
        best = self.search.best(question.analysis, facets, among=among, limit=limit, weights=question.weights)
        return tuple(best)

    def facet_weights(self, question: Asked) -> dict[str, float]:
        """The facets the question has, with what sharing each is worth."""
        facets = {f"code:{code}": _CODE * self.code_rarity(code) for code in question.codes}
        for heard in question.heard:
            facets[f"symptom:{heard.symptom}"] = _SYMPTOM * heard.chance
        if question.complaint.vehicle.model:
            for system in question.systems:
                facets[car_facet(question.complaint.vehicle.model, system)] = _CAR
        return facets

    def code_rarity(self, code: str) -> float:
        """How much sharing a code says in this shop, in (0, 1]."""
        return rarity(code, {code: self.count(f"code:{code}")}, self.living.held)
