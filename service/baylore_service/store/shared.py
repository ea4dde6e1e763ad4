"""What shops share: copies of cases as their shops let them go, numbered as they were shared or withdrawn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from uuid import uuid4

from sqlalchemy import ColumnElement, func, insert, select, update

from baylore_service.store.document import from_text, to_text
from baylore_service.store.records import CaseFile
from baylore_service.store.tables import pools, shared
from baylore_service.store.work import Work

POOL = "all"


@dataclass(frozen=True, slots=True)
class Sharing:
    """How a case is shared: under which id, since when, and the revision that was looked at."""

    id: str
    of_revision: int
    at: datetime


@dataclass(frozen=True, slots=True)
class SharedChange:
    """A shared case put, or withdrawn (None)."""

    seq: int
    id: str
    shop_id: str
    file: CaseFile | None


def put(work: Work, shop_id: str, case_id: str, file: CaseFile, *, at: datetime) -> Sharing:
    """Share a case, or share it anew as it is now; `file` is what others may see, with its revision."""
    seq = _next(work)
    place = (shared.c.shop_id == shop_id, shared.c.case_id == case_id)
    known = work.connection.execute(select(shared.c.id).where(*place)).scalar()
    id = known or str(uuid4())
    row = {"seq": seq, "of_revision": file.revision, "at": at, "document": to_text(replace(file, id=id))}
    if known is None:
        work.connection.execute(insert(shared), {"id": id, "shop_id": shop_id, "case_id": case_id, **row})
    else:
        work.connection.execute(update(shared).where(*place).values(**row))
    return Sharing(id, file.revision, at)


def withdraw(work: Work, shop_id: str, case_id: str, *, at: datetime) -> int:
    """Take back what was shared of a case; 0 where nothing was, else 1."""
    return _take_back(work, shared.c.shop_id == shop_id, shared.c.case_id == case_id, at=at)


def withdraw_all(work: Work, shop_id: str, *, at: datetime) -> int:
    """Take back all that a shop shares; how many cases it were."""
    return _take_back(work, shared.c.shop_id == shop_id, at=at)


def find(work: Work, shop_id: str, case_id: str) -> Sharing | None:
    """How a case is shared now; None where it is not."""
    query = select(shared.c.id, shared.c.of_revision, shared.c.at).where(
        shared.c.shop_id == shop_id, shared.c.case_id == case_id, shared.c.document.is_not(None)
    )
    row = work.connection.execute(query).one_or_none()
    return None if row is None else Sharing(row.id, row.of_revision, row.at)


def latest(work: Work) -> int:
    """The number of the last change."""
    return int(work.connection.execute(select(pools.c.latest).where(pools.c.id == POOL)).scalar() or 0)


def after(work: Work, seq: int) -> tuple[SharedChange, ...]:
    """What was shared or withdrawn after a number, in order."""
    rows = work.connection.execute(select(shared).where(shared.c.seq > seq).order_by(shared.c.seq))
    return tuple(
        SharedChange(row.seq, row.id, row.shop_id, from_text(row.document) if row.document else None)
        for row in rows
    )


def _take_back(work: Work, *place: ColumnElement[bool], at: datetime) -> int:
    """Take back what is shared there, all under one number: whoever follows sees it at one moment."""
    here = (*place, shared.c.document.is_not(None))
    count = work.connection.execute(select(func.count()).select_from(shared).where(*here)).scalar_one()
    if count:
        taken_back = {"seq": _next(work), "at": at, "document": None}
        work.connection.execute(update(shared).where(*here).values(**taken_back))
    return int(count)


def _next(work: Work) -> int:
    """The next number; all who share take turns here until their work ends."""
    count = update(pools).where(pools.c.id == POOL).values(latest=pools.c.latest + 1)
    return int(work.connection.execute(count.returning(pools.c.latest)).scalar_one())
