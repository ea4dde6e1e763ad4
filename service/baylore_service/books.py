"""Counts by grouping, kept beside each shop's index and following its change log."""

from __future__ import annotations

import gc
import threading
from collections import OrderedDict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from baylore_kb.index import Snapshot
from baylore_kb.recurrence import Book
from baylore_service.index_host import IndexHosts
from baylore_service.store import changes
from baylore_service.store.work import Store

# Groupings held at once over all shops; the one not asked for longest goes first.
MOST_BOOKS = 64


class _Kept:
    """A book with the revision it is at; -1 before its first reading."""

    def __init__(self, book: Book) -> None:
        self.book, self.revision = book, -1
        self.lock = threading.Lock()


class Books:
    """Books by shop and grouping. One reader at a time: what is read must not change meanwhile."""

    def __init__(self, store: Store, hosts: IndexHosts) -> None:
        self._store, self._hosts = store, hosts
        self._kept: OrderedDict[tuple[str, tuple[str, ...]], _Kept] = OrderedDict()
        self._lock = threading.Lock()

    @contextmanager
    def book(self, shop_id: str, by: Sequence[str]) -> Iterator[Book]:
        """The book of a grouping with all that was committed before this call, held until it is left.

        Raises UnknownGrouping.
        """
        snapshot = self._hosts.snapshot(shop_id)
        kept = self._held(shop_id, tuple(by), snapshot)
        with kept.lock:
            self._catch_up(kept, shop_id, snapshot)
            yield kept.book

    def _held(self, shop_id: str, by: tuple[str, ...], snapshot: Snapshot) -> _Kept:
        """The kept book; a new one, empty, where there is none or the lists have changed."""
        with self._lock:
            kept = self._kept.get((shop_id, by))
            if kept is None or kept.book.trade is not snapshot.trade:
                kept = _Kept(Book(by, snapshot.trade))
                self._kept[shop_id, by] = kept
            self._kept.move_to_end((shop_id, by))
            while len(self._kept) > MOST_BOOKS:
                self._kept.popitem(last=False)
            return kept

    def _catch_up(self, kept: _Kept, shop_id: str, snapshot: Snapshot) -> None:
        if kept.revision >= snapshot.revision:
            return
        if kept.revision < 0:
            with _uncollected():
                kept.book.fill(snapshot.cases.values())
        else:
            for id in self._changed(shop_id, kept.revision):
                _follow(kept.book, snapshot, id)
        kept.revision = snapshot.revision

    def _changed(self, shop_id: str, revision: int) -> set[str]:
        with self._store.read() as work:
            return {each.id for each in changes.after(work, shop_id, revision) if each.kind == "case"}


@contextmanager
def _uncollected() -> Iterator[None]:
    """No garbage is looked for meanwhile: walking through a million new values again and again finds none."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _follow(book: Book, snapshot: Snapshot, id: str) -> None:
    """Take a case as it is now; one changed again meanwhile is taken again with the next revision."""
    case = snapshot.cases.get(id)
    if case is None:
        book.drop(id)
    else:
        book.put(case)
