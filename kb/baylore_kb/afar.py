"""A memory whose cases lie elsewhere: what is counted over them is here, the few worth comparing are fetched.

Scores, likeness and chances are reckoned from the same counts by the same code as with all cases at hand;
only which cases are looked at is another's choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Protocol

import msgspec
import numpy as np
import numpy.typing as npt
from immutables import Map

from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Asked, Snapshot
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.living import Living
from baylore_kb.search import COMPARED, Candidate, Search
from baylore_kb.segment import Sample, Segment
from baylore_kb.stems import stem
from baylore_kb.system_sounds import Stories, SystemSounds
from baylore_kb.tally import Tally
from baylore_kb.together import level, level_of
from baylore_kb.tools import tools_for
from baylore_kb.trade import Trade
from baylore_kb.values import Case, Judged

# Cases fetched for a question, of which two hundred are compared: the choice is by a rougher score. With 600
# the first three were the same in 85 of 100 questions at 50,000 cases, with 1500 in 98 (measured by
# `tests/bench/database_candidates.py`).
FETCHED = 1500


# Numbers of terms spelt like a word, with their likeness.
Near = Mapping[str, list[tuple[int, float]]]


@dataclass(frozen=True, slots=True)
class Sought:
    """What is looked for: what each term and facet is worth, and how many cases have it.

    `mean_length` is that of all cases in terms, `ideal` what a case with every asked term would be worth;
    cases as of `revision` or later will do.
    """

    terms: Mapping[str, float]
    facets: Mapping[str, float]
    counts: Mapping[str, int]
    mean_length: float
    ideal: float
    cases: int
    revision: int = 0


class Source(Protocol):
    """Where the cases lie."""

    @property
    def cases(self) -> Mapping[str, Case]:
        """All cases by id."""

    def find(self, sought: Sought, *, limit: int) -> Sequence[bytes]:
        """Cases that are not open, as they were written by `write`, that promise most; at most `limit`."""

    def alike(self, words: Sequence[str]) -> Mapping[str, Sequence[tuple[str, float]]]:
        """Words of the cases spelt like these, most alike first, with their likeness in [0, 1]."""


class _Written(msgspec.Struct, frozen=True, array_like=True):
    """A case with what was read of it, terms and words as such."""

    case: Case
    terms: list[str]
    weights: list[float]
    words: list[str]
    length: float
    facets: list[str]
    symptoms: dict[str, float]
    judged: tuple[Judged, ...]


_decoder = msgspec.msgpack.Decoder(_Written)


def write(doc: CaseDoc, reader: Reader) -> bytes:
    """A case that this reader has read, for whoever keeps it."""
    lexicon, book = reader.lexicon.terms, reader.book.terms
    return msgspec.msgpack.encode(
        _Written(
            doc.case,
            [lexicon[n] for n in doc.terms.tolist()],
            doc.weights.tolist(),
            [book[n] for n in doc.words.tolist()],
            doc.length,
            sorted(doc.facets),
            dict(doc.symptoms),
            doc.judged,
        )
    )


def read(data: bytes, reader: Reader, *, known: int | None = None) -> CaseDoc:
    """A kept case in the numbers of this reader; of its terms those numbered below `known`, where given."""
    written = _decoder.decode(data)
    weights = np.asarray(written.weights, dtype=np.float32)
    if known is None:
        terms, words = reader.lexicon.numbers(written.terms), reader.book.numbers(written.words)
    else:
        terms, words = reader.lexicon.found(written.terms), reader.book.found(())
        here = (terms >= 0) & (terms < known)
        weights, terms = weights[here], terms[here]
    order = np.argsort(terms)
    return CaseDoc(
        written.case,
        terms[order],
        weights[order],
        words,
        written.length,
        frozenset(written.facets),
        written.symptoms,
        written.judged,
    )


@dataclass(frozen=True, slots=True)
class News:
    """A case that came, changed or went: as it was and as it is, None where it was not or is no more."""

    id: str
    was: CaseDoc | None
    now: CaseDoc | None


@dataclass(frozen=True, slots=True)
class FarSearch(Search):
    """Searches the documents it is given; what words come together is told by a sample of all.

    `near` are the terms spelt like each word of a question, where they were looked for before.
    """

    company: Sample
    near: Near

    def alike(self, word: str) -> list[tuple[int, float]]:
        """As `Search.alike` has it, or as it was found before."""
        return self.near[word] if word in self.near else Search.alike(self, word)

    def _present(self, numbers: Sequence[int], least: int) -> list[npt.NDArray[np.float32]]:
        everyone = np.ones(len(self.company.columns), dtype=np.bool_)
        return [self.company.presence(numbers, everyone, least)]


@dataclass(frozen=True, eq=False)
class FarSnapshot(Snapshot):
    """All that is counted over a shop's cases at one revision; the cases themselves stay in `source`.

    `sampled` are some cases, chosen by their ids alone: they tell which words come together and which parts
    cure. It takes memory for the words, the counts and the sample, however many cases there are.
    """

    sampled: Map[str, CaseDoc]
    source: Source

    @staticmethod
    def none(trade: Trade, source: Source) -> FarSnapshot:
        """Nothing counted yet."""
        return _of(trade, source, Lexicon(), WordBook())

    def with_news(self, news: Iterable[News], *, revision: int) -> FarSnapshot:
        """After cases came, changed or went, in their order."""
        told = list(news)
        removed, added = [n.was for n in told if n.was], [n.now for n in told if n.now]
        terms, words = len(self.reader.lexicon), len(self.reader.book)
        living = self.living.counted(removed, added, terms=terms, words=words)
        tally = self.tally.changed(removed=[d.case for d in removed], added=[d.case for d in added])
        sampled = _resampled(self.sampled, told, least=level(living.held // 2))
        return replace(self, living=living, tally=tally, sampled=sampled, revision=revision)

    def with_trade(self, trade: Trade, *, revision: int) -> FarSnapshot:
        """The same counts under other lists; cases that those read otherwise come as news."""
        tools = tools_for(trade)
        self.reader.book.numbers(sorted(tools.known.keys() - self.known_words.keys()))
        reader = replace(self.reader, trade=trade, spotter=tools.spotter, analyzer=tools.analyzer)
        return replace(self, reader=reader, known_words=tools.known, revision=revision)

    @property
    def cases(self) -> Mapping[str, Case]:
        """All cases by id, fetched when looked at."""
        return self.source.cases

    @property
    def part_cases(self) -> Mapping[str, Case]:
        """The sampled cases: which parts cure is told from them."""
        return {id: doc.case for id, doc in self.sampled.items()}

    @cached_property
    def system_sounds(self) -> SystemSounds | None:
        """How each system sounds in the sampled cases; None where none is the shop's own."""
        if not self.names_systems:
            return None
        return SystemSounds.of(Stories.of(self.sampled.values()), self.idf)

    def docs(self, ids: Iterable[str]) -> list[CaseDoc]:
        """Those of these cases that are sampled."""
        return [self.sampled[id] for id in ids if id in self.sampled]

    @cached_property
    def search(self) -> Search:
        """What weighs a question's terms; it has no documents."""
        return self._searching((), {})

    @cached_property
    def _company(self) -> Sample:
        return Sample.of([self.sampled[id] for id in sorted(self.sampled)], first=0)

    def _searching(self, docs: Sequence[CaseDoc], near: Near) -> FarSearch:
        segments = (Segment.of(docs, first=0),) if docs else ()
        living = replace(
            self.living,
            numbers=Map({doc.case.id: n for n, doc in enumerate(docs)}),
            alive=np.ones(len(docs), dtype=np.bool_),
            evidence=np.ones(len(docs), dtype=np.bool_),
            elsewhere=self.living.held - len(docs),
        )
        return FarSearch(segments, living, self.reader.lexicon, self.reader.book, self._company, near)

    def _near(self, question: Asked) -> Near:
        """Terms spelt like the words of a question; the source is asked where none is known to be."""
        asked = dict.fromkeys(question.analysis.words)
        weighed = [word for word in asked if question.weights.get(stem(word), 0.0) > 0.0]
        near = {word: self.search.alike(word) for word in weighed}
        lost = [word for word, found in near.items() if not found and not self.numbered([stem(word)])]
        told = self.source.alike(lost) if lost else {}
        return near | {word: self.search.by_roots(spelt) for word, spelt in told.items()}

    def candidates(
        self, question: Asked, *, limit: int = COMPARED, leave_out: frozenset[str] = frozenset()
    ) -> tuple[Candidate, ...]:
        """Past cases worth comparing among those the source finds, as `Snapshot.candidates` has it."""
        facets = self.facet_weights(question)
        near = self._near(question)
        found = self.source.find(self._sought(question, facets, near), limit=FETCHED + len(leave_out))
        known = len(self.living.terms)
        docs = [read(data, self.reader, known=known) for data in found]
        docs = [doc for doc in docs if doc.case.id not in leave_out]
        if not docs:
            return ()
        search = self._searching(docs, near)
        among = search.living.evidence
        return tuple(
            search.best(question.analysis, facets, among=among, limit=limit, weights=question.weights)
        )

    def _sought(self, question: Asked, facets: Mapping[str, float], near: Near) -> Sought:
        alike = self._searching((), near).stand_ins(question.analysis, question.weights)
        terms = {self.reader.lexicon.terms[number]: worth for number, worth in alike.items()}
        terms |= question.weights
        counts = {term: int(self.living.terms[n]) for n, term in self.numbered(terms).items()}
        return Sought(
            {term: worth for term, worth in terms.items() if counts.get(term) and worth > 0.0},
            {facet: worth for facet, worth in facets.items() if self.count(facet) and worth > 0.0},
            counts | {facet: self.count(facet) for facet in facets},
            self.living.mean_length,
            sum(question.weights.values()),
            self.living.held,
            self.revision,
        )


def _of(trade: Trade, source: Source, lexicon: Lexicon, book: WordBook) -> FarSnapshot:
    tools = tools_for(trade)
    book.numbers(sorted(tools.known))
    reader = Reader(tools.analyzer, lexicon, book, trade, tools.spotter)
    return FarSnapshot(
        reader,
        (),
        Living.none(),
        Tally(),
        tools.known,
        tools.phrases,
        0,
        stories=None,
        sampled=Map(),
        source=source,
    )


def _resampled(sampled: Map[str, CaseDoc], news: Iterable[News], *, least: int) -> Map[str, CaseDoc]:
    draft = sampled.mutate()
    for each in news:
        if each.id in draft:
            del draft[each.id]
        if each.now is not None and level_of(each.id) >= least:
            draft[each.id] = each.now
    kept = draft.finish()
    if all(level_of(id) >= least for id in kept):
        return kept
    return Map({id: doc for id, doc in kept.items() if level_of(id) >= least})


class _Counts(msgspec.Struct, frozen=True, array_like=True):
    """What a far snapshot has counted."""

    revision: int
    terms: list[str]
    term_counts: bytes
    words: list[str]
    word_counts: bytes
    facets: dict[str, dict[str, int]]
    length: int
    cases: int
    tally: Tally
    sampled: list[bytes]


def pack_counts(snapshot: FarSnapshot) -> bytes:
    """What was counted, for processes that begin later."""
    living, reader = snapshot.living, snapshot.reader
    return msgspec.msgpack.encode(
        _Counts(
            snapshot.revision,
            reader.lexicon.terms[: len(living.terms)],
            living.terms.astype("<i4").tobytes(),
            reader.book.terms[: len(living.words)],
            living.words.astype("<i4").tobytes(),
            {kind: dict(held) for kind, held in living.facets.items()},
            living.length,
            living.held,
            snapshot.tally,
            [write(snapshot.sampled[id], reader) for id in sorted(snapshot.sampled)],
        )
    )


def unpack_counts(data: bytes, trade: Trade, source: Source) -> FarSnapshot:
    """The snapshot that was packed. Raises SavedIndexUnusable for damaged bytes."""
    try:
        counts = msgspec.msgpack.decode(data, type=_Counts)
    except msgspec.MsgspecError as error:
        raise SavedIndexUnusable("it is damaged") from error
    empty = _of(trade, source, Lexicon.of(counts.terms), WordBook.of(counts.words))
    living = replace(
        empty.living,
        terms=np.frombuffer(counts.term_counts, dtype="<i4").astype(np.int32),
        words=np.frombuffer(counts.word_counts, dtype="<i4").astype(np.int32),
        facets=Map({kind: Map(held) for kind, held in counts.facets.items()}),
        length=counts.length,
        elsewhere=counts.cases,
    )
    sampled = [read(each, empty.reader) for each in counts.sampled]
    return replace(
        empty,
        living=living,
        tally=counts.tally,
        revision=counts.revision,
        sampled=Map({doc.case.id: doc for doc in sampled}),
    )
