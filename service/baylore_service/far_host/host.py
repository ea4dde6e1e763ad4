"""The memory of a shop whose cases stay in PostgreSQL: what is counted, kept and followed."""

from __future__ import annotations

import numpy as np

from baylore_kb.afar import FarSnapshot, pack_counts, unpack_counts
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.trade.model import Trade
from baylore_service.far_host.counting import followed, recounted
from baylore_service.far_host.filling import fill
from baylore_service.far_host.source import PostgresSource
from baylore_service.index_host import IndexHost, Mind
from baylore_service.shop_lists import tuning_of
from baylore_service.store import seeking
from baylore_service.store.work import Work


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
            state = seeking.locked(work, self._shop_id)
            known = None if mind is None else mind.snapshot
            fill(work, self._shop_id, state, trade=self._lists(work), known=known)
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
        return followed(work, self._shop_id, snapshot, revision=state.filled)

    def _kept(self, work: Work, trade: Trade) -> FarSnapshot:
        source, data = self._source(), seeking.counts(work, self._shop_id)
        try:
            if data is None:
                raise SavedIndexUnusable("nothing was counted")
            return unpack_counts(data, trade, source)
        except SavedIndexUnusable:
            return recounted(work, self._shop_id, FarSnapshot.none(trade, source))

    def _source(self) -> PostgresSource:
        return PostgresSource(self._store, self._shop_id, trigrams=self.trigrams)


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
