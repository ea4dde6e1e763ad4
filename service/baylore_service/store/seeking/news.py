"""What came, changed and went since a shop's cases were last counted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import text

from baylore_service.store.seeking.tables import SCHEMA
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Told:
    """A case that changed, as it was written before and after."""

    seq: int
    id: str
    was: bytes | None
    now: bytes | None


def tell(work: Work, shop_id: str, news: Sequence[Told]) -> None:
    """Add to the news."""
    new = text(f"INSERT INTO {SCHEMA}.news VALUES (:shop, :seq, :id, :was, :now)")
    rows = [
        {"shop": shop_id, "seq": each.seq, "id": each.id, "was": each.was, "now": each.now} for each in news
    ]
    if rows:
        work.connection.execute(new, rows)


def news(work: Work, shop_id: str, *, after: int) -> Iterator[Told]:
    """The news after a revision, in their order."""
    query = text(
        f"SELECT seq, id, was, now FROM {SCHEMA}.news WHERE shop_id = :shop AND seq > :after ORDER BY seq, id"
    )
    rows = work.connection.execute(query, {"shop": shop_id, "after": after})
    return (Told(row.seq, row.id, _bytes(row.was), _bytes(row.now)) for row in rows)


def _bytes(value: object) -> bytes | None:
    return None if value is None else bytes(value)  # type: ignore[call-overload]
