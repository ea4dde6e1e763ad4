"""Cases of about the same days as another."""

from __future__ import annotations

from datetime import timedelta

from sqlalchemy import ColumnElement, Select, and_, or_, select

from baylore_service.store.document import from_text
from baylore_service.store.records import CaseFile
from baylore_service.store.tables import cases
from baylore_service.store.work import Work

MOST = 1000
# A case stays open for no longer than this where only its closing is near.
LONGEST_OPEN = timedelta(days=60)


def around(work: Work, shop_id: str, file: CaseFile, *, days: int) -> tuple[CaseFile, ...]:
    """Other cases opened, or closed, within so many days of it (and a day for good measure).

    Of more than a thousand those opened last.
    """
    span = timedelta(days=days + 1)
    terms: list[ColumnElement[bool]] = [cases.c.opened.between(file.opened - span, file.opened + span)]
    if file.closed is not None:
        lately = cases.c.opened.between(file.closed - span - LONGEST_OPEN, file.closed + span)
        terms.append(and_(lately, cases.c.closed.between(file.closed - span, file.closed + span)))
    query: Select[str] = select(cases.c.document).where(
        cases.c.shop_id == shop_id, cases.c.id != file.id, or_(*terms)
    )
    query = query.order_by(cases.c.opened.desc(), cases.c.id).limit(MOST)
    return tuple(map(from_text, work.connection.execute(query).scalars()))
