"""Shops, put and got as plain values."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import insert, select, update

from baylore_service.store.columns import list_text, to_rules, to_words
from baylore_service.store.records import Shop
from baylore_service.store.tables import shops
from baylore_service.store.work import Work


def add(work: Work, shop: Shop, *, at: datetime) -> None:
    """Keep a new shop."""
    work.connection.execute(insert(shops), {"id": shop.id, "made": at, "latest": 0, **_columns(shop)})


def put(work: Work, shop: Shop) -> None:
    """Keep a changed shop."""
    work.connection.execute(update(shops).where(shops.c.id == shop.id).values(**_columns(shop)))


def get(work: Work, shop_id: str) -> Shop | None:
    """The shop, None where there is none."""
    row = work.connection.execute(select(shops).where(shops.c.id == shop_id)).one_or_none()
    return None if row is None else to_shop(row)


def every(work: Work) -> tuple[Shop, ...]:
    """All shops, oldest first."""
    rows = work.connection.execute(select(shops).order_by(shops.c.made, shops.c.id))
    return tuple(map(to_shop, rows))


def to_shop(row: Any) -> Shop:
    """The shop of a row of `shops`."""
    return Shop(
        row.id,
        row.name,
        row.currency,
        row.unit_system,
        row.rate_per_hour,
        row.time_zone,
        lacks=to_words(row.lacks),
        rights=to_rules(row.rights),
        shares=row.shares,
    )


def _columns(shop: Shop) -> dict[str, object]:
    return {
        "name": shop.name,
        "currency": shop.currency,
        "unit_system": shop.unit_system,
        "rate_per_hour": shop.rate_per_hour,
        "time_zone": shop.time_zone,
        "lacks": list_text(shop.lacks),
        "rights": list_text(shop.rights),
        "shares": shop.shares,
    }
