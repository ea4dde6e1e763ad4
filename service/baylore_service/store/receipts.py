"""Answers kept for their idempotency keys."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import delete, insert, select, update

from baylore_service.errors import KeyReused
from baylore_service.store.records import Kept, Receipt
from baylore_service.store.tables import receipts
from baylore_service.store.work import Work

# Names that texts have in answers and elsewhere not.
FIELDS = {"complaint": "complaint_text", "name": "by"}
# Where an answered case holds words of its own.
BLANKED = frozenset(
    ("title", "complaint_text", "note", "text", "verification", "cause_title", "point", "vin")
)


def find(work: Work, shop_id: str, receipt: Receipt) -> Kept | None:
    """The answer given to this request before. Raises KeyReused where the key was for another request."""
    query = select(receipts.c.digest, receipts.c.body)
    row = work.connection.execute(
        query.where(receipts.c.shop_id == shop_id, receipts.c.key == receipt.key)
    ).one_or_none()
    if row is None:
        return None
    if row.digest != receipt.digest:
        raise KeyReused(receipt.key)
    return Kept(row.body, replayed=True)


def keep(work: Work, shop_id: str, receipt: Receipt, *, body: bytes, at: datetime) -> Kept:
    """Keep the answer of this request."""
    row = {"shop_id": shop_id, "key": receipt.key, "digest": receipt.digest, "body": body, "at": at}
    work.connection.execute(insert(receipts), row)
    return Kept(body, replayed=False)


def rewrite(work: Work, shop_id: str, change: Callable[[str, str], str]) -> int:
    """Change every text of the kept answers of a shop, each told with its field; how many answers changed."""
    return _rewrite(work, shop_id, change)


def blank(work: Work, shop_id: str, case_id: str) -> int:
    """Take the words out of the kept answers about a case; how many were changed.

    Their keys stay: what is sent again must not be done again.
    """
    named = case_id.encode()
    return _rewrite(work, shop_id, lambda field, text: "" if field in BLANKED else text, named=named)


def _rewrite(work: Work, shop_id: str, change: Callable[[str, str], str], *, named: bytes = b"") -> int:
    """Change the kept answers that hold these bytes."""
    query = select(receipts.c.key, receipts.c.body).where(receipts.c.shop_id == shop_id)
    count = 0
    for key, body in work.connection.execute(query).all():
        before = msgspec.json.decode(body) if named in body else None
        after = _changed(before, change)
        if after != before:
            here = update(receipts).where(receipts.c.shop_id == shop_id, receipts.c.key == key)
            count += work.connection.execute(here.values(body=msgspec.json.encode(after))).rowcount
    return count


def _changed(value: Any, change: Callable[[str, str], str], field: str = "") -> Any:
    if isinstance(value, str):
        return change(FIELDS.get(field, field), value)
    if isinstance(value, list):
        return [_changed(each, change, field) for each in value]
    if isinstance(value, dict):
        return {name: _changed(each, change, name) for name, each in value.items()}
    return value


def forget(work: Work, *, before: datetime) -> int:
    """Drop the answers kept before a moment; how many."""
    return work.connection.execute(delete(receipts).where(receipts.c.at < before)).rowcount
