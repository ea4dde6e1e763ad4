"""Counts a shop's cases from its derived tables: all of them, or what came since."""

from __future__ import annotations

from itertools import islice

from baylore_kb.afar import FarSnapshot, News, read
from baylore_kb.casedoc import CaseDoc, Reader
from baylore_service.store import seeking
from baylore_service.store.work import Work

READ_AT_ONCE = 1000


def recounted(work: Work, shop_id: str, empty: FarSnapshot) -> FarSnapshot:
    """All cases counted, up to the last news."""
    state, snapshot = seeking.state(work, shop_id), empty
    docs = (read(data, empty.reader) for data in seeking.every(work, shop_id))
    news = (News(doc.case.id, None, doc) for doc in docs)
    while some := list(islice(news, READ_AT_ONCE)):
        snapshot = snapshot.with_news(some, revision=0)
    return snapshot.with_news((), revision=state.filled if state else 0)


def followed(work: Work, shop_id: str, snapshot: FarSnapshot, *, revision: int) -> FarSnapshot:
    """The counts after the news that came since, which make it this revision."""
    reader = snapshot.reader
    news = [
        News(told.id, _read(told.was, reader), _read(told.now, reader))
        for told in seeking.news(work, shop_id, after=snapshot.revision)
    ]
    return snapshot.with_news(news, revision=revision)


def _read(data: bytes | None, reader: Reader) -> CaseDoc | None:
    return None if data is None else read(data, reader)
