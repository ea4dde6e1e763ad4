"""Trials of a shop's own tuning: numbers from 1, the last of them kept."""

from __future__ import annotations

from sqlalchemy import and_, delete, func, insert, select

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
    """Keep a trial; those before the last 20 go."""
    row = {name: getattr(trial, name) for name in COLUMNS}
    work.connection.execute(insert(tunings), {"shop_id": shop_id, **row})
    old = and_(tunings.c.shop_id == shop_id, tunings.c.version <= trial.version - KEPT)
    work.connection.execute(delete(tunings).where(old))


def latest(work: Work, shop_id: str) -> TuningTrial | None:
    """The last trial, None before the first. Where it was adopted its tuning is in use."""
    query = select(tunings).where(tunings.c.shop_id == shop_id)
    row = work.connection.execute(query.order_by(tunings.c.version.desc()).limit(1)).one_or_none()
    return None if row is None else TuningTrial(**{name: getattr(row, name) for name in COLUMNS})


def count(work: Work, shop_id: str) -> int:
    """How many trials are kept."""
    query = select(func.count()).select_from(tunings).where(tunings.c.shop_id == shop_id)
    return work.connection.execute(query).scalar_one()
