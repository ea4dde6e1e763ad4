"""All that is counted over a shop's cases while they lie elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from immutables import Map

from baylore_kb.afar.brief import Brief, best, promise
from baylore_kb.afar.search import FarSearch, Near
from baylore_kb.afar.source import Sought, Source
from baylore_kb.afar.written import read
from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.fitted import by_component, with_returns
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
from baylore_kb.values import Case

# Cases that the source is to find for a question by its rougher score, of which those compared are chosen.
# Of 200 questions at 100,000 cases the first three were all among 600 in 92 %, among 1,000 in 97 %, among
# 2,000 always.
FOUND = 2000


@dataclass(frozen=True, slots=True)
class News:
    """A case that came, changed or went: as it was and as it is, None where it was not or is no more."""

    id: str
    was: CaseDoc | None
    now: CaseDoc | None


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
        return FarSnapshot.numbered_by(trade, source, Lexicon(), WordBook())

    @staticmethod
    def numbered_by(trade: Trade, source: Source, lexicon: Lexicon, book: WordBook) -> FarSnapshot:
        """Nothing counted yet; terms and words have the numbers of these."""
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

    def part_cases(self, component: str) -> list[Case]:
        """The sampled cases that tell which parts of a component cure; none where none was fitted."""
        return with_returns(self._fitted.get(component, ()), self._told)

    @cached_property
    def _told(self) -> dict[str, Case]:
        return {id: doc.case for id, doc in self.sampled.items()}

    @cached_property
    def _fitted(self) -> Mapping[str, list[Case]]:
        return by_component(self._told.values())

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
        sought = self._sought(question, facets, near)

        def choose(found: Sequence[Brief]) -> list[str]:
            promised = promise(found, sought.terms, sought.facets, mean_length=sought.mean_length)
            return best(found, promised, limit=limit, leave_out=leave_out)

        known = len(self.living.terms)
        chosen = self.source.find(sought, limit=FOUND + len(leave_out), choose=choose)
        docs = [read(data, self.reader, known=known) for data in chosen]
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
