"""Answers kept for their idempotency keys."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import delete, insert, select

from baylore_service.errors import KeyReused
from baylore_service.store.records import Kept, Receipt
from baylore_service.store.tables import receipts
from baylore_service.store.work import Work


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


def forget(work: Work, *, before: datetime) -> int:
    """Drop the answers kept before a moment; how many."""
    return work.connection.execute(delete(receipts).where(receipts.c.at < before)).rowcount
