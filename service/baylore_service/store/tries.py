"""Wrong codes and tokens of the last minutes, by whom they count against."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import delete, func, insert, select

from baylore_service.store.tables import wrong_tries
from baylore_service.store.work import Work


def between(work: Work, key: str, *, after: datetime, until: datetime) -> tuple[int, datetime | None]:
    """How many there were after a moment until another, and when the first of them was."""
    query = select(func.count(), func.min(wrong_tries.c.at))
    count, first = work.connection.execute(
        query.where(wrong_tries.c.key == key, wrong_tries.c.at > after, wrong_tries.c.at <= until)
    ).one()
    return int(count), first


def note(work: Work, key: str, *, at: datetime) -> None:
    """Keep one more."""
    work.connection.execute(insert(wrong_tries), {"key": key, "at": at})


def forget(work: Work, *, before: datetime) -> int:
    """Drop those of before a moment; how many."""
    return work.connection.execute(delete(wrong_tries).where(wrong_tries.c.at < before)).rowcount
