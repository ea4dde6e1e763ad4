"""One immutable index per shop that follows the change log and is swapped whole, its own lists with it."""

from __future__ import annotations

import threading
from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.advice import Tuning
from baylore_kb.index import Snapshot
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_service.shop_lists import lists_of, tuning_of
from baylore_service.store import cases, changes
from baylore_service.store.records import Change
from baylore_service.store.work import Store, Work


class IndexHosts:
    """The indexes of all shops of this process."""

    def __init__(self, store: Store, trade: Trade) -> None:
        self._store, self._trade = store, trade
        self._hosts: dict[str, IndexHost] = {}
        self._lock = threading.Lock()

    def snapshot(self, shop_id: str) -> Snapshot:
        """The index of a shop with all that was committed before this call."""
        return self.host(shop_id).snapshot()

    def host(self, shop_id: str) -> IndexHost:
        """The host of a shop; made at first need, built at first snapshot."""
        with self._lock:
            if shop_id not in self._hosts:
                self._hosts[shop_id] = IndexHost(self._store, self._trade, shop_id)
            return self._hosts[shop_id]


@dataclass(frozen=True, slots=True)
class Mind:
    """What a question is answered from: the shop's cases with its lists, and its tuning."""

    snapshot: Snapshot
    tuning: Tuning


@dataclass(frozen=True, slots=True)
class Known:
    """The shop's lists as of a change."""

    trade: Trade
    revision: int


class IndexHost:
    """The index of one shop. Ranking holds no lock: it works on the snapshot it was given."""

    def __init__(self, store: Store, trade: Trade, shop_id: str) -> None:
        self._store, self._shipped, self._shop_id = store, trade, shop_id
        self._mind: Mind | None = None
        self._known: Known | None = None
        self._lock = threading.Lock()

    def snapshot(self) -> Snapshot:
        """The newest index: one short query, and a catch-up only where something happened."""
        return self.mind().snapshot

    def mind(self) -> Mind:
        """The newest index with the tuning in use."""
        seen = self._mind
        with self._store.read() as work:
            latest = changes.latest(work, self._shop_id)
        if seen is not None and seen.snapshot.revision >= latest:
            return seen
        with self._lock:
            current = self._mind
            # Whoever waited for the lock finds the work done by the one before.
            if current is None or current.snapshot.revision < latest:
                current = self._build() if current is None else self._catch_up(current)
                self._mind = current
            return current

    def trade(self) -> Trade:
        """The shipped lists with what the shop had added before this call; needs no index."""
        with self._store.read() as work:
            return self._lists(work)

    def rebuilt(self) -> Snapshot:
        """An index built anew from the store, for comparing."""
        return self._build().snapshot

    def _build(self) -> Mind:
        with self._store.read() as work:
            revision, trade = changes.latest(work, self._shop_id), self._lists(work)
            tuning = tuning_of(work, self._shop_id)
            files = [file.as_case() for file in cases.every(work, self._shop_id)]
        return Mind(Snapshot.build(files, trade=trade, revision=revision), tuning)

    def _catch_up(self, mind: Mind) -> Mind:
        snapshot, tuning = mind.snapshot, mind.tuning
        with self._store.read() as work:
            news = changes.after(work, self._shop_id, snapshot.revision)
            put, deleted = self._effect(work, news)
            trade = self._lists(work)
            if any(change.kind == "tuning" for change in news):
                tuning = tuning_of(work, self._shop_id)
        revision = news[-1].seq if news else snapshot.revision
        if trade is not snapshot.trade:
            snapshot = snapshot.with_trade(trade, revision=revision)
        return Mind(snapshot.with_changes(put=put, deleted=deleted, revision=revision), tuning)

    def _lists(self, work: Work) -> Trade:
        """The lists as of this work; the same object as long as they stay the same."""
        known, latest = self._known, changes.latest(work, self._shop_id)
        if known is None or (
            known.revision < latest and "trade" in changes.kinds(work, self._shop_id, after=known.revision)
        ):
            trade = lists_of(work, self._shop_id, self._shipped)
            same = known is not None and known.trade.version == trade.version
            known = Known(known.trade if known is not None and same else trade, latest)
        elif known.revision < latest:
            known = Known(known.trade, latest)
        self._known = known
        return known.trade

    def _effect(self, work: Work, news: Iterable[Change]) -> tuple[list[Case], set[str]]:
        """The cases to put and the ids to drop; only the last change of each case counts."""
        last = {change.id: change.op for change in news if change.kind == "case"}
        there = cases.get_many(work, self._shop_id, (id for id, op in last.items() if op == "put"))
        return [file.as_case() for file in there.values()], set(last) - set(there)
