"""One immutable index of what shops share, which follows its numbers and is swapped whole."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass

from baylore_kb.index import Snapshot
from baylore_kb.trade.model import Trade
from baylore_service.store import shared
from baylore_service.store.work import Store


@dataclass(frozen=True, slots=True)
class Pool:
    """All shared cases, read with the shipped lists, and whose each is: shop by shared id."""

    snapshot: Snapshot
    shops: Mapping[str, str]

    def of(self, shop_id: str) -> frozenset[str]:
        """The shared ids of a shop's own cases."""
        return frozenset(id for id, owner in self.shops.items() if owner == shop_id)


class PoolHost:
    """The pool of this process. Ranking holds no lock: it works on the pool it was given."""

    def __init__(self, store: Store, trade: Trade) -> None:
        self._store, self._trade = store, trade
        self._pool: Pool | None = None
        self._lock = threading.Lock()

    def pool(self) -> Pool:
        """The pool with all that was shared and withdrawn before this call."""
        with self._store.read() as work:
            latest = shared.latest(work)
        seen = self._pool
        if seen is not None and seen.snapshot.revision >= latest:
            return seen
        with self._lock:
            self._pool = self._caught_up(self._pool)
            return self._pool

    def _caught_up(self, before: Pool | None) -> Pool:
        known = before or Pool(Snapshot.build((), trade=self._trade, revision=0), {})
        with self._store.read() as work:
            news, latest = shared.after(work, known.snapshot.revision), shared.latest(work)
        put = [change.file.as_case() for change in news if change.file is not None]
        gone = {change.id for change in news if change.file is None}
        owners = {change.id: change.shop_id for change in news if change.file is not None}
        kept = {id: shop for id, shop in known.shops.items() if id not in gone}
        return Pool(known.snapshot.with_changes(put=put, deleted=gone, revision=latest), kept | owners)
