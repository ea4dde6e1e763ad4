"""One immutable index per shop that follows the change log and is swapped whole, its own lists with it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

import structlog

from baylore_kb.advice import Tuning
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.saved import pack, unpack
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_service.index_files import IndexFiles, reader_version
from baylore_service.shop_lists import lists_of, tuning_of
from baylore_service.store import cases, changes
from baylore_service.store.records import CaseFile, Change
from baylore_service.store.work import Store, Work

log = structlog.get_logger("baylore.index")
# Saving fewer changes than this costs more than reading them anew.
SAVED_EVERY = 200


class IndexHosts:
    """The indexes of all shops of this process."""

    def __init__(
        self,
        store: Store,
        trade: Trade,
        files: IndexFiles | None = None,
        *,
        host: Callable[..., IndexHost] | None = None,
    ) -> None:
        self._store, self._trade, self._files = store, trade, files or IndexFiles(None)
        self._made = host or IndexHost
        self._hosts: dict[str, IndexHost] = {}
        self._lock = threading.Lock()

    def snapshot(self, shop_id: str) -> Snapshot:
        """The index of a shop with all that was committed before this call."""
        return self.host(shop_id).snapshot()

    def host(self, shop_id: str) -> IndexHost:
        """The host of a shop; made at first need, built at first snapshot."""
        with self._lock:
            if shop_id not in self._hosts:
                self._hosts[shop_id] = self._made(self._store, self._trade, shop_id, files=self._files)
            return self._hosts[shop_id]

    def tidy(self) -> None:
        """Join and save the indexes that changed much; questions and changes go on meanwhile."""
        for host in self._all():
            host.join()
            host.save(unless_fewer=SAVED_EVERY)

    def follow(self) -> None:
        """Catch the indexes that are built up with what was written, so that no question has to."""
        built = {host.shop_id: host for host in self._all() if host.revision >= 0}
        with self._store.read() as work:
            newest = changes.newest(work, built)
        for shop_id, latest in newest.items():
            if latest > built[shop_id].revision:
                built[shop_id].snapshot()

    def save(self) -> None:
        """Save the indexes that changed at all, as before an end."""
        for host in self._all():
            host.save()

    def loaded(self) -> list[int]:
        """How many cases each index that is loaded holds; nothing is built or looked up for it."""
        return [len(host.cases) for host in self._all() if host.cases is not None]

    def _all(self) -> list[IndexHost]:
        with self._lock:
            return list(self._hosts.values())


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

    def __init__(self, store: Store, trade: Trade, shop_id: str, *, files: IndexFiles) -> None:
        self._store, self._shipped, self._shop_id, self._files = store, trade, shop_id, files
        self._mind: Mind | None = None
        self._saved = -1
        self._known: Known | None = None
        self._lock = threading.Lock()

    @property
    def shop_id(self) -> str:
        """The shop whose index it is."""
        return self._shop_id

    @property
    def revision(self) -> int:
        """The change the index holds by now, -1 before it is built."""
        mind = self._mind
        return -1 if mind is None else mind.snapshot.revision

    @property
    def cases(self) -> Mapping[str, Case] | None:
        """The cases of the index as it is loaded now, None before it is."""
        return None if self._mind is None else self._mind.snapshot.cases

    def snapshot(self) -> Snapshot:
        """The newest index: one short query, and a catch-up only where something happened."""
        return self.mind().snapshot

    def mind(self, *, latest: int | None = None) -> Mind:
        """The newest index with the tuning in use; `latest` spares looking up the last change."""
        seen = self._mind
        if latest is None:
            with self._store.read() as work:
                latest = changes.latest(work, self._shop_id)
        if seen is not None and seen.snapshot.revision >= latest:
            return seen
        with self._lock:
            current = self._mind
            # Whoever waited for the lock finds the work done by the one before.
            if current is None or current.snapshot.revision < latest:
                current = self._build(latest) if current is None else self._catch_up(current, latest)
                self._mind = current
            return current

    def trade(self) -> Trade:
        """The shipped lists with what the shop had added before this call; needs no index."""
        with self._store.read() as work:
            return self._lists(work)

    def rebuilt(self) -> Snapshot:
        """An index built anew from the store, for comparing; nothing saved is used."""
        return self._read(None, self.snapshot().revision).snapshot

    def join(self) -> None:
        """Join the many small pieces that single changes leave; a change that comes between undoes it."""
        mind = self._mind
        if mind is None or not mind.snapshot.scattered:
            return
        joined = replace(mind, snapshot=mind.snapshot.joined())
        with self._lock:
            if self._mind is mind:
                self._mind = joined

    def save(self, *, unless_fewer: int = 1) -> None:
        """Keep on disk what was read of the cases, unless fewer changes came since the last time."""
        mind = self._mind
        if mind is None or mind.snapshot.revision - self._saved < unless_fewer:
            return
        with self._store.read() as work:
            stamps = _stamps(work, self._shop_id)
            if changes.latest(work, self._shop_id) != mind.snapshot.revision:
                return
        data = pack(mind.snapshot, stamps=stamps, version=reader_version())
        if self._files.write(self._shop_id, data):
            self._saved = mind.snapshot.revision

    def _build(self, latest: int) -> Mind:
        return self._read(self._files.read(self._shop_id), latest)

    def _reaches(self, latest: int) -> Callable[[Work], bool]:
        """Whether a work sees a change: a replica may be behind."""
        return lambda work: changes.latest(work, self._shop_id) >= latest

    def _read(self, saved: bytes | None, latest: int) -> Mind:
        with self._store.read_far(self._reaches(latest)) as work:
            revision, trade = changes.latest(work, self._shop_id), self._lists(work)
            tuning, stamps = tuning_of(work, self._shop_id), _stamps(work, self._shop_id)
            files = [file.as_case() for file in cases.every(work, self._shop_id) if remembered(file)]
        if saved is not None:
            try:
                snapshot = unpack(
                    saved, files, stamps=stamps, version=reader_version(), trade=trade, revision=revision
                )
                self._saved = revision
                return Mind(snapshot, tuning)
            except SavedIndexUnusable as error:
                log.warning("saved index not used", shop=self._shop_id, reason=str(error))
        return Mind(Snapshot.build(files, trade=trade, revision=revision), tuning)

    def _catch_up(self, mind: Mind, latest: int) -> Mind:
        snapshot, tuning = mind.snapshot, mind.tuning
        with self._store.read_far(self._reaches(latest)) as work:
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
        put = [file.as_case() for file in there.values() if remembered(file)]
        return put, set(last) - {case.id for case in put}


def remembered(file: CaseFile) -> bool:
    """Whether a case is one of the memory: what was joined into another is in that one."""
    return file.joined_into is None


def _stamps(work: Work, shop_id: str) -> dict[str, str]:
    """A stamp for each case that changes whenever it does.

    After a store went back in time a number is given once more: only with its moment it names one change.
    """
    return {id: f"{n} {at.isoformat()}" for id, (n, at) in cases.moments(work, shop_id).items()}
