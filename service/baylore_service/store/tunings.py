"""Trials of a shop's own tuning: numbers from 1, the last of them kept."""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, func, insert, select

from baylore_service.store.records.own import TuningTrial
from baylore_service.store.tables import tunings
from baylore_service.store.work import Work

KEPT = 20
COLUMNS = (
    "version",
    "at",
    "revision",
    "closed",
    "asked",
    "shipped_loss",
    "tuned_loss",
    "adopted",
    "document",
)


def add(work: Work, shop_id: str, trial: TuningTrial) -> None:
    """Keep a trial; those before the last 20 go, but never the one in use."""
    row = {name: getattr(trial, name) for name in COLUMNS}
    work.connection.execute(insert(tunings), {"shop_id": shop_id, **row})
    in_use = adopted(work, shop_id)
    old = delete(tunings).where(tunings.c.shop_id == shop_id, tunings.c.version <= trial.version - KEPT)
    work.connection.execute(old if in_use is None else old.where(tunings.c.version != in_use.version))


def latest(work: Work, shop_id: str) -> TuningTrial | None:
    """The last trial, None before the first."""
    return _newest(work, shop_id)


def adopted(work: Work, shop_id: str) -> TuningTrial | None:
    """The trial whose tuning is in use, None while the shipped one is."""
    return _newest(work, shop_id, tunings.c.adopted)


def next_version(work: Work, shop_id: str) -> int:
    """The number of the next trial."""
    query = select(func.max(tunings.c.version)).where(tunings.c.shop_id == shop_id)
    return int(work.connection.execute(query).scalar() or 0) + 1


def _newest(work: Work, shop_id: str, *which: Any) -> TuningTrial | None:
    query = select(tunings).where(tunings.c.shop_id == shop_id, *which)
    row = work.connection.execute(query.order_by(tunings.c.version.desc()).limit(1)).one_or_none()
    return None if row is None else TuningTrial(**{name: getattr(row, name) for name in COLUMNS})
