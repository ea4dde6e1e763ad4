"""A shop's memory whose cases stay in PostgreSQL: filled, counted and followed by the change log."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

import numpy as np

from baylore_kb.afar import FarSnapshot, News, Sought, pack_counts, read, unpack_counts, write
from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.senses import telling_words
from baylore_kb.stems import stem
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import meanings, shipped_of
from baylore_kb.values import Case
from baylore_service.index_files import reader_version
from baylore_service.index_host import IndexHost, Mind, remembered
from baylore_service.shop_lists import tuning_of
from baylore_service.store import cases, changes, seeking
from baylore_service.store.seeking import Ask, Row, State, Told
from baylore_service.store.work import Store, Work

# Rows a search may walk through, those of terms found everywhere taken only together.
MOST_WALKED = 20_000
# Terms that come everywhere are taken by twos; more of them add work and hardly a case.
MOST_PAIRED = 8
# Words that come together do so more often than by chance; so many times as often is reckoned with.
TOGETHER = 3.0
READ_AT_ONCE = 1000
# Words spelt like an asked one that nothing else is known of.
MOST_ALIKE = 5
# The best case seldom has all that is asked: its words' worth is about the whole divided by this.
USUAL_BEST = 1.5


class FarCases(Mapping[str, Case]):
    """A shop's cases by id, fetched when looked at."""

    def __init__(self, store: Store, shop_id: str) -> None:
        self._store, self._shop_id = store, shop_id

    def __getitem__(self, id: str) -> Case:
        with self._store.read() as work:
            file = cases.get(work, self._shop_id, id)
        if file is None or not remembered(file):
            raise KeyError(id)
        return file.as_case()

    def __iter__(self) -> Iterator[str]:
        with self._store.read() as work:
            yield from cases.revisions(work, self._shop_id)

    def __len__(self) -> int:
        with self._store.read() as work:
            return len(cases.revisions(work, self._shop_id))

    def values(self) -> Iterable[Case]:  # type: ignore[override]
        """All cases, fetched in one go."""
        with self._store.read() as work:
            yield from (file.as_case() for file in cases.every(work, self._shop_id) if remembered(file))


class PostgresSource:
    """Finds a shop's cases in its derived tables; with `trigrams` words spelt alike too."""

    def __init__(self, store: Store, shop_id: str, *, trigrams: bool = False) -> None:
        self._store, self._shop_id, self._trigrams = store, shop_id, trigrams
        self.cases: Mapping[str, Case] = FarCases(store, shop_id)

    def find(self, sought: Sought, *, limit: int) -> Sequence[bytes]:
        """The cases that promise most, as they were written."""

        def filled(work: Work) -> bool:
            state = seeking.state(work, self._shop_id)
            return state is not None and state.filled >= sought.revision

        with self._store.read_far(filled) as work:
            state = seeking.state(work, self._shop_id)
            if state is None:
                return []
            return seeking.find(work, self._shop_id, state.number, asked(sought, limit=limit))

    def alike(self, words: Sequence[str]) -> Mapping[str, Sequence[tuple[str, float]]]:
        """Words of the shop spelt like these, by the trigrams they share; none without `trigrams`."""
        if not self._trigrams:
            return {}
        with self._store.read() as work:
            return seeking.alike(work, self._shop_id, words, most=MOST_ALIKE)


def asked(sought: Sought, *, limit: int) -> Ask:
    """The search for what is sought: rare terms by themselves, those found everywhere by twos."""
    share = USUAL_BEST / sought.ideal if sought.ideal > 0 else 0.0
    words = {term: worth * share for term, worth in sought.terms.items()}
    facets = {facet_term(facet): worth for facet, worth in sought.facets.items()}
    held = {term: sought.counts[term] for term in words}
    held |= {facet_term(facet): sought.counts[facet] for facet in sought.facets}
    return Ask(tuple(_groups(words | facets, held, sought.cases)), words, facets, sought.mean_length, limit)


def _groups(worth: Mapping[str, float], held: Mapping[str, int], cases: int) -> Iterator[tuple[str, ...]]:
    """Terms, most telling first, as long as few enough cases have them; of the others the pairs."""
    walked, common = 0.0, []
    for term in sorted(worth, key=lambda term: (-worth[term], term)):
        if walked + held[term] <= MOST_WALKED:
            walked += held[term]
            yield (term,)
        else:
            common.append(term)
    for one, other in combinations(common[:MOST_PAIRED], 2):
        both = min(TOGETHER * held[one] * held[other] / max(cases, 1), held[one], held[other])
        if walked + both <= 2 * MOST_WALKED:
            walked += both
            yield one, other


def facet_term(facet: str) -> str:
    """A facet as it stands among the terms of a case; no word holds a blank in front."""
    return f" {facet}"


class FarHost(IndexHost):
    """The memory of one shop with its cases in PostgreSQL; whichever process comes first fills the tables.

    With `trigrams`, which the database may refuse, words nothing like which is known are found by theirs.
    """

    trigrams = False

    def _build(self, latest: int) -> Mind:
        return self._followed(None)

    def _catch_up(self, mind: Mind, latest: int) -> Mind:
        return self._followed(mind)

    def rebuilt(self) -> Snapshot:
        """A snapshot of all cases in memory, for comparing."""
        return self._read(None, self.revision).snapshot

    def join(self) -> None:
        """There is nothing to join."""

    def save(self, *, unless_fewer: int = 1) -> None:
        """Keep what was counted for processes that begin later, unless fewer changes came since."""
        mind = self._mind
        if mind is None or mind.snapshot.revision - self._saved < unless_fewer:
            return
        assert isinstance(mind.snapshot, FarSnapshot)
        data = pack_counts(mind.snapshot)
        with self._store.write() as work:
            seeking.locked(work, self._shop_id)
            seeking.keep_counts(work, self._shop_id, data, revision=mind.snapshot.revision)
        self._saved = mind.snapshot.revision

    def _followed(self, mind: Mind | None) -> Mind:
        with self._store.write() as work:
            seeking.prepare(work)
            self._fill(work, mind)
        with self._store.read() as work:
            snapshot = self._counted(work, mind)
            tuning = tuning_of(work, self._shop_id)
        self._counted_words(None if mind is None else mind.snapshot, snapshot)
        return Mind(snapshot, tuning)

    def _counted_words(self, before: Snapshot | None, snapshot: FarSnapshot) -> None:
        """Hear which words the cases have by now, those of before this change apart."""

    def _counted(self, work: Work, mind: Mind | None) -> FarSnapshot:
        """What is counted as of this work: from the last counts kept, or this process's own, and the news."""
        state, trade = seeking.state(work, self._shop_id), self._lists(work)
        assert state is not None
        snapshot = mind.snapshot if mind is not None else None
        if not isinstance(snapshot, FarSnapshot) or snapshot.revision < state.floor:
            snapshot = self._kept(work, trade)
        elif snapshot.trade is not trade:
            snapshot = snapshot.with_trade(trade, revision=snapshot.revision)
        reader = snapshot.reader
        news = [_news(each, reader) for each in seeking.news(work, self._shop_id, after=snapshot.revision)]
        return snapshot.with_news(news, revision=state.filled)

    def _kept(self, work: Work, trade: Trade) -> FarSnapshot:
        source, data = self._source(), seeking.counts(work, self._shop_id)
        try:
            if data is None:
                raise SavedIndexUnusable("nothing was counted")
            return unpack_counts(data, trade, source)
        except SavedIndexUnusable:
            return self._recounted(work, trade)

    def _source(self) -> PostgresSource:
        return PostgresSource(self._store, self._shop_id, trigrams=self.trigrams)

    def _recounted(self, work: Work, trade: Trade) -> FarSnapshot:
        """All cases counted anew, up to the last news."""
        state = seeking.state(work, self._shop_id)
        snapshot = FarSnapshot.none(trade, self._source())
        run: list[News] = []
        for data in seeking.every(work, self._shop_id):
            doc = read(data, snapshot.reader)
            run.append(News(doc.case.id, None, doc))
            if len(run) == READ_AT_ONCE:
                snapshot, run = snapshot.with_news(run, revision=0), []
        return snapshot.with_news(run, revision=state.filled if state else 0)

    def _fill(self, work: Work, mind: Mind | None) -> None:
        """Bring the tables up to the store: what changed, or all of it where other code or lists read it."""
        state, trade = seeking.locked(work, self._shop_id), self._lists(work)
        latest, version = changes.latest(work, self._shop_id), reader_version()
        if state.filled > latest or (mind is None and state.reader != version):
            # The store was set back, or other code read it (which a process that runs already leaves so).
            self._refill(work, state, latest, trade)
        elif state.lists == trade.version:
            self._renew(work, state, self._changed(work, state), latest=latest, trade=trade)
        elif self._knows(mind, state, trade):
            assert mind is not None
            stale = self._changed(work, state) | self._reworded(work, state, mind.snapshot.trade, trade)
            self._renew(work, state, stale, latest=latest, trade=trade)
        else:
            self._refill(work, state, latest, trade)
        seeking.filled(work, self._shop_id, to=latest, reader=version, lists=trade.version)

    def _knows(self, mind: Mind | None, state: State, trade: Trade) -> bool:
        """Whether this process knows the lists the tables were filled with, and they differ little."""
        if mind is None or mind.snapshot.trade.version != state.lists:
            return False
        return shipped_of(mind.snapshot.trade) is shipped_of(trade)

    def _changed(self, work: Work, state: State) -> set[str]:
        return {each.id for each in changes.after(work, self._shop_id, state.filled) if each.kind == "case"}

    def _reworded(self, work: Work, state: State, old: Trade, new: Trade) -> set[str]:
        """Cases that other lists read otherwise: by their cause, or by a word that means something else."""
        differ = {id for id, _ in old.causes.items() ^ new.causes.items()}
        found = set(cases.of_causes(work, self._shop_id, differ))
        for phrase in {word for word, _ in meanings(old).items() ^ meanings(new).items()}:
            roots = [stem(word) for word in telling_words(phrase)]
            found |= set(seeking.holding(work, self._shop_id, state.number, roots)) if roots else set()
        return found

    def _renew(self, work: Work, state: State, ids: set[str], *, latest: int, trade: Trade) -> None:
        if not ids:
            return
        reader, wanted = _reader(trade), sorted(ids)
        before = seeking.documents(work, self._shop_id, wanted)
        files = cases.get_many(work, self._shop_id, wanted)
        docs = [reader.read(file.as_case()) for file in files.values() if remembered(file)]
        rows = [row_of(doc, reader) for doc in docs]
        after = {row.id: row.document for row in rows}
        news = [
            Told(latest, id, before.get(id), after.get(id)) for id in wanted if id in before or id in after
        ]
        seeking.drop(work, self._shop_id, [id for id in wanted if id not in after])
        seeking.put(work, self._shop_id, state.number, rows)
        seeking.tell(work, self._shop_id, news)

    def _refill(self, work: Work, state: State, latest: int, trade: Trade) -> None:
        seeking.clear(work, self._shop_id)
        reader = _reader(trade)
        files = (file for file in cases.every(work, self._shop_id) if remembered(file))
        rows = (row_of(reader.read(file.as_case()), reader) for file in files)
        seeking.put(work, self._shop_id, state.number, rows)
        seeking.restart(work, self._shop_id, revision=latest)


class SpellingHost(FarHost):
    """As FarHost, with the words of the shop kept where the database finds those spelt alike."""

    trigrams = True

    def _counted_words(self, before: Snapshot | None, snapshot: FarSnapshot) -> None:
        known = 0 if before is None else len(before.living.words)
        held = np.flatnonzero(snapshot.living.words[known:]) + known
        words = [snapshot.reader.book.terms[number] for number in held.tolist()]
        with self._store.write() as work:
            seeking.locked(work, self._shop_id)
            if before is None:
                seeking.prepare_trigrams(work)
            seeking.keep_words(work, self._shop_id, words, anew=before is None)


def _reader(trade: Trade) -> Reader:
    """A reader of its own: what it numbers is written as words."""
    return Snapshot.build((), trade=trade).reader


def row_of(doc: CaseDoc, reader: Reader) -> Row:
    """A case that this reader has read, as it is sought and kept."""
    terms = [reader.lexicon.terms[n] for n in doc.terms.tolist()]
    sought = None if doc.case.state == "open" else [*terms, *map(facet_term, sorted(doc.facets))]
    return Row(doc.case.id, doc.length, sought, write(doc, reader))


def _news(told: Told, reader: Reader) -> News:
    return News(
        told.id,
        None if told.was is None else read(told.was, reader),
        None if told.now is None else read(told.now, reader),
    )
