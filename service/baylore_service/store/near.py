"""Cases of about the same days as another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from sqlalchemy import ColumnElement, and_, false, or_, select

from baylore_service.store.records import CaseFile
from baylore_service.store.tables import cases
from baylore_service.store.work import Work

MOST = 2000
# A case stays open for no longer than this where only its closing is near.
LONGEST_OPEN = timedelta(days=60)


@dataclass(frozen=True, slots=True)
class Near:
    """A case of those days: its make and model, folded, and whether it names the VIN that was looked for."""

    id: str
    make: str
    model: str
    same_vin: bool


def around(work: Work, shop_id: str, file: CaseFile, *, days: int) -> tuple[Near, ...]:
    """Other cases opened, or closed, within so many days of it (and a day for good measure).

    Of more than two thousand those opened last.
    """
    vin = file.vehicle.vin
    named = cases.c.document.contains(vin, autoescape=True) if vin else false()
    query = (
        select(cases.c.id, cases.c.make, cases.c.model, named.label("same_vin"))
        .where(cases.c.shop_id == shop_id, cases.c.id != file.id, _near(file, timedelta(days=days + 1)))
        .order_by(cases.c.opened.desc(), cases.c.id)
        .limit(MOST)
    )
    rows = work.connection.execute(query)
    return tuple(Near(row.id, row.make, row.model, bool(row.same_vin)) for row in rows)


def _near(file: CaseFile, span: timedelta) -> ColumnElement[bool]:
    opened = cases.c.opened.between(file.opened - span, file.opened + span)
    if file.closed is None:
        return opened
    lately = cases.c.opened.between(file.closed - span - LONGEST_OPEN, file.closed + span)
    return or_(opened, and_(lately, cases.c.closed.between(file.closed - span, file.closed + span)))
