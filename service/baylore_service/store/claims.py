"""Claims on long acts: one process at a time does such an act for a shop."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, and_, delete, insert, select

from baylore_service.store.tables import claims
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Claim:
    """Who does which act for a shop, and until when that holds."""

    shop_id: str
    act: str
    holder: str
    until: datetime


def take(work: Work, claim: Claim, *, now: datetime) -> bool:
    """Claim an act; False while another holder's claim runs. Needs a write of the shop."""
    query = select(claims.c.holder).where(_of(claim), claims.c.until > now, claims.c.holder != claim.holder)
    if work.connection.execute(query).first() is not None:
        return False
    work.connection.execute(delete(claims).where(_of(claim)))
    row = {"shop_id": claim.shop_id, "act": claim.act, "holder": claim.holder, "until": claim.until}
    work.connection.execute(insert(claims), row)
    return True


def release(work: Work, claim: Claim) -> None:
    """Give a claim back; another's stays."""
    work.connection.execute(delete(claims).where(_of(claim), claims.c.holder == claim.holder))


def _of(claim: Claim) -> ColumnElement[bool]:
    return and_(claims.c.shop_id == claim.shop_id, claims.c.act == claim.act)
