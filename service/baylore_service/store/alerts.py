"""Alerts as they were last seen, one for each subject of a shop."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
from sqlalchemy import Row, delete, insert, select

from baylore_kb.alerts import Alert
from baylore_service.store.records.office import AlertState, KeptAlert
from baylore_service.store.tables import alerts
from baylore_service.store.work import Work

COLUMNS = ("id", "state", "raised", "seen", "settled", "settled_level", "by", "reason")


def every(work: Work, shop_id: str, *, states: Iterable[AlertState] = ()) -> tuple[KeptAlert, ...]:
    """The alerts of a shop in these states, in all where none is named; the newest first."""
    query = select(alerts).where(alerts.c.shop_id == shop_id)
    if wanted := list(states):
        query = query.where(alerts.c.state.in_(wanted))
    rows = work.connection.execute(query.order_by(alerts.c.raised.desc(), alerts.c.id))
    return tuple(_kept(row) for row in rows)


def get(work: Work, shop_id: str, alert_id: str) -> KeptAlert | None:
    """The alert of this shop, None where there is none."""
    query = select(alerts).where(alerts.c.shop_id == shop_id, alerts.c.id == alert_id)
    row = work.connection.execute(query).one_or_none()
    return None if row is None else _kept(row)


def put(work: Work, shop_id: str, kept: KeptAlert) -> None:
    """Keep an alert in the place of what was there."""
    here = alerts.c.shop_id == shop_id, alerts.c.id == kept.id
    work.connection.execute(delete(alerts).where(*here))
    row = {name: getattr(kept, name) for name in COLUMNS}
    row |= {"shop_id": shop_id, "kind": kept.alert.kind, "level": kept.alert.level}
    work.connection.execute(insert(alerts), row | {"document": msgspec.json.encode(kept.alert).decode()})


def _kept(row: Row[tuple[object, ...]]) -> KeptAlert:
    alert = msgspec.json.decode(row.document, type=Alert)
    return KeptAlert(alert=alert, **{name: getattr(row, name) for name in COLUMNS})
