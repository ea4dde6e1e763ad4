"""Entries of a shop's own lists, put and got as plain values."""

from __future__ import annotations

from typing import Any

import msgspec
from sqlalchemy import ColumnElement, and_, delete, insert, select

from baylore_kb.trade.own import OwnCause, OwnTest
from baylore_service.store.records.own import EntryKind, OwnEntry, OwnMinutes, OwnValue, OwnWord
from baylore_service.store.tables import own_entries
from baylore_service.store.work import Work

_encoder = msgspec.json.Encoder(order="deterministic")
_DECODERS: dict[str, msgspec.json.Decoder[OwnValue]] = {
    "test": msgspec.json.Decoder(OwnTest),
    "cause": msgspec.json.Decoder(OwnCause),
    "minutes": msgspec.json.Decoder(OwnMinutes),
    "word": msgspec.json.Decoder(OwnWord),
}


def every(work: Work, shop_id: str) -> tuple[OwnEntry, ...]:
    """All entries of a shop, oldest first: the same entries always come in the same order."""
    query = select(own_entries).where(own_entries.c.shop_id == shop_id)
    rows = work.connection.execute(query.order_by(own_entries.c.made, own_entries.c.kind, own_entries.c.id))
    return tuple(map(_to_entry, rows))


def get(work: Work, shop_id: str, kind: EntryKind, id: str) -> OwnEntry | None:
    """The entry of this shop, None where there is none."""
    row = work.connection.execute(select(own_entries).where(_key(shop_id, kind, id))).one_or_none()
    return None if row is None else _to_entry(row)


def put(work: Work, shop_id: str, entry: OwnEntry) -> None:
    """Keep an entry, in the place of an older one."""
    remove(work, shop_id, entry.kind, entry.value.id)
    row = {"shop_id": shop_id, "kind": entry.kind, "id": entry.value.id}
    times = {"made": entry.made, "updated": entry.updated}
    document = _encoder.encode(entry.value).decode()
    work.connection.execute(insert(own_entries), row | times | {"document": document})


def remove(work: Work, shop_id: str, kind: EntryKind, id: str) -> None:
    """Drop an entry."""
    work.connection.execute(delete(own_entries).where(_key(shop_id, kind, id)))


def _key(shop_id: str, kind: str, id: str) -> ColumnElement[bool]:
    named = and_(own_entries.c.kind == kind, own_entries.c.id == id)
    return and_(own_entries.c.shop_id == shop_id, named)


def _to_entry(row: Any) -> OwnEntry:
    return OwnEntry(_DECODERS[row.kind].decode(row.document), row.made, row.updated)
