"""Visits for neutral reasons (oil, tyres), counted by month and model: what failures are held against."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import delete, func, insert, select

from baylore_service.store.records.office import NeutralVisits
from baylore_service.store.tables import visits
from baylore_service.store.work import Work

COLUMNS = ("month", "make", "model", "count")


def put(work: Work, shop_id: str, counted: NeutralVisits, *, at: datetime) -> None:
    """Keep a month's count of a model in the place of the one before; a count of 0 drops it."""
    place = (visits.c.shop_id == shop_id, visits.c.month == counted.month)
    car = (visits.c.make == counted.make, visits.c.model == counted.model)
    work.connection.execute(delete(visits).where(*place, *car))
    if counted.count:
        row = {name: getattr(counted, name) for name in COLUMNS}
        work.connection.execute(insert(visits), {"shop_id": shop_id, "updated": at, **row})


def every(work: Work, shop_id: str) -> tuple[NeutralVisits, ...]:
    """All counts of a shop, oldest month first."""
    query = select(visits).where(visits.c.shop_id == shop_id)
    rows = work.connection.execute(query.order_by(visits.c.month, visits.c.make, visits.c.model))
    return tuple(NeutralVisits(**{name: getattr(row, name) for name in COLUMNS}) for row in rows)


def by_model(work: Work, shop_id: str, *, first: str, last: str) -> dict[str, int]:
    """Visits by "make model", folded, from month `first` to `last`, both included."""
    query = (
        select(visits.c.make, visits.c.model, func.sum(visits.c.count).label("total"))
        .where(visits.c.shop_id == shop_id, visits.c.month >= first, visits.c.month <= last)
        .group_by(visits.c.make, visits.c.model)
    )
    found: dict[str, int] = {}
    for row in work.connection.execute(query):
        name = f"{row.make} {row.model}".strip().casefold()
        found[name] = found.get(name, 0) + int(row.total)
    return found
