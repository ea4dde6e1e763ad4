"""Facts that the authors of cases are asked for."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import delete, insert, select

from baylore_service.store.records.office import FactAsked
from baylore_service.store.tables import asks
from baylore_service.store.work import Work

COLUMNS = ("case_id", "fact", "at", "by", "unknown")


def put(work: Work, shop_id: str, asked: Iterable[FactAsked]) -> None:
    """Keep what is asked, each in the place of the same question before."""
    for each in asked:
        place = asks.c.case_id == each.case_id, asks.c.fact == each.fact
        work.connection.execute(delete(asks).where(asks.c.shop_id == shop_id, *place))
        row = {name: getattr(each, name) for name in COLUMNS}
        work.connection.execute(insert(asks), {"shop_id": shop_id, **row})


def every(work: Work, shop_id: str, *, case_id: str | None = None) -> tuple[FactAsked, ...]:
    """What is asked in a shop, of one case where it is named; the oldest first."""
    query = select(asks).where(asks.c.shop_id == shop_id)
    if case_id is not None:
        query = query.where(asks.c.case_id == case_id)
    rows = work.connection.execute(query.order_by(asks.c.at, asks.c.case_id, asks.c.fact))
    return tuple(FactAsked(**{name: getattr(row, name) for name in COLUMNS}) for row in rows)
