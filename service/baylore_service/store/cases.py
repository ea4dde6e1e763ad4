"""Put and get case files, always of one shop."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Select, delete, insert, select, update

from baylore_service.store.among import among
from baylore_service.store.document import from_text, to_text
from baylore_service.store.records import CaseFile
from baylore_service.store.tables import cases
from baylore_service.store.work import Work

BATCH = 512


@dataclass(frozen=True, slots=True)
class Facets:
    """What lists find a case by: folded make, model and words, and the ids of its systems."""

    make: str
    model: str
    words: str
    systems: tuple[str, ...]


def get(work: Work, shop_id: str, case_id: str) -> CaseFile | None:
    """The case of this shop, None where there is none."""
    query = select(cases.c.document).where(cases.c.shop_id == shop_id, cases.c.id == case_id)
    text = work.connection.execute(query).scalar()
    return None if text is None else from_text(text)


def get_many(work: Work, shop_id: str, ids: Iterable[str]) -> dict[str, CaseFile]:
    """The cases of these ids that are there, by id."""
    wanted, found = list(dict.fromkeys(ids)), {}
    for start in range(0, len(wanted), BATCH):
        some = wanted[start : start + BATCH]
        query = select(cases.c.document).where(cases.c.shop_id == shop_id, among(cases.c.id, some))
        files = map(from_text, work.connection.execute(query).scalars())
        found.update({file.id: file for file in files})
    return found


def origin(work: Work, shop_id: str, case_id: str) -> str | None:
    """The digest of the import line a case came from, None for one opened here."""
    query = select(cases.c.origin).where(cases.c.shop_id == shop_id, cases.c.id == case_id)
    return work.connection.execute(query).scalar()


def add(work: Work, shop_id: str, file: CaseFile, facets: Facets, *, origin: str | None = None) -> None:
    """Keep a new case."""
    row = {"shop_id": shop_id, "id": file.id, "origin": origin, **_columns(file, facets)}
    work.connection.execute(insert(cases), row)


def put(work: Work, shop_id: str, file: CaseFile, facets: Facets) -> None:
    """Keep a changed case in the place of the old."""
    here = update(cases).where(cases.c.shop_id == shop_id, cases.c.id == file.id)
    work.connection.execute(here.values(**_columns(file, facets)))


def remove(work: Work, shop_id: str, case_id: str) -> None:
    """Drop a case; its photos go with it."""
    work.connection.execute(delete(cases).where(cases.c.shop_id == shop_id, cases.c.id == case_id))


def every(work: Work, shop_id: str) -> Iterator[CaseFile]:
    """All cases of a shop, oldest first."""
    query: Select[str] = (
        select(cases.c.document).where(cases.c.shop_id == shop_id).order_by(cases.c.opened, cases.c.id)
    )
    rows = work.connection.execute(query.execution_options(yield_per=BATCH))
    return map(from_text, rows.scalars())


def of_causes(work: Work, shop_id: str, causes: Iterable[str]) -> list[str]:
    """Ids of the cases that turned out to be one of these causes."""
    query = select(cases.c.id).where(cases.c.shop_id == shop_id, among(cases.c.cause, causes))
    return list(work.connection.execute(query).scalars())


def revisions(work: Work, shop_id: str) -> dict[str, int]:
    """The revision column of each case, by id."""
    query = select(cases.c.id, cases.c.revision).where(cases.c.shop_id == shop_id)
    return {row.id: row.revision for row in work.connection.execute(query)}


def moments(work: Work, shop_id: str) -> dict[str, tuple[int, datetime]]:
    """Revision and moment of the last change of each case, by id."""
    query = select(cases.c.id, cases.c.revision, cases.c.updated).where(cases.c.shop_id == shop_id)
    return {row.id: (row.revision, row.updated) for row in work.connection.execute(query)}


def _columns(file: CaseFile, facets: Facets) -> dict[str, object]:
    return {
        "revision": file.revision,
        "state": file.state,
        "opened": file.opened,
        "closed": file.closed,
        "updated": file.updated,
        "make": facets.make,
        "model": facets.model,
        "cause": file.cause,
        "systems": f" {' '.join(facets.systems)} ",
        "words": facets.words,
        "document": to_text(file),
    }
