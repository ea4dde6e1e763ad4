"""One immutable index per shop that follows the change log and is swapped whole."""

from __future__ import annotations

import threading
from collections.abc import Iterable

from baylore_kb.index import Snapshot
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
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


class IndexHost:
    """The index of one shop. Ranking holds no lock: it works on the snapshot it was given."""

    def __init__(self, store: Store, trade: Trade, shop_id: str) -> None:
        self._store, self._trade, self._shop_id = store, trade, shop_id
        self._snapshot: Snapshot | None = None
        self._lock = threading.Lock()

    def snapshot(self) -> Snapshot:
        """The newest index: one short query, and a catch-up only where something happened."""
        seen = self._snapshot
        with self._store.read() as work:
            latest = changes.latest(work, self._shop_id)
        if seen is not None and seen.revision >= latest:
            return seen
        with self._lock:
            current = self._snapshot
            # Whoever waited for the lock finds the work done by the one before.
            if current is None or current.revision < latest:
                current = self._build() if current is None else self._catch_up(current)
                self._snapshot = current
            return current

    def rebuilt(self) -> Snapshot:
        """An index built anew from the store, for comparing."""
        return self._build()

    def _build(self) -> Snapshot:
        with self._store.read() as work:
            revision = changes.latest(work, self._shop_id)
            files = [file.as_case() for file in cases.every(work, self._shop_id)]
        return Snapshot.build(files, trade=self._trade, revision=revision)

    def _catch_up(self, snapshot: Snapshot) -> Snapshot:
        with self._store.read() as work:
            news = changes.after(work, self._shop_id, snapshot.revision)
            put, deleted = self._effect(work, news)
        revision = news[-1].seq if news else snapshot.revision
        return snapshot.with_changes(put=put, deleted=deleted, revision=revision)

    def _effect(self, work: Work, news: Iterable[Change]) -> tuple[list[Case], set[str]]:
        """The cases to put and the ids to drop; only the last change of each case counts."""
        last = {change.id: change.op for change in news if change.kind == "case"}
        there = cases.get_many(work, self._shop_id, (id for id, op in last.items() if op == "put"))
        return [file.as_case() for file in there.values()], set(last) - set(there)
