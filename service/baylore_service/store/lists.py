"""Pages of cases, newest first, from a place on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Select, and_, or_, select

from baylore_service.store.document import from_text
from baylore_service.store.records import CaseFile, CaseFilter
from baylore_service.store.tables import cases
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Place:
    """The last case of a page: what comes after it is older, or as old with a smaller id."""

    opened: datetime
    id: str


def page(
    work: Work, shop_id: str, which: CaseFilter, *, after: Place | None, limit: int
) -> tuple[CaseFile, ...]:
    """At most `limit` cases after a place; make, model and text of the filter are folded already."""
    query: Select[str] = select(cases.c.document).where(cases.c.shop_id == shop_id, *_terms(which))
    if after is not None:
        query = query.where(_older_than(after))
    query = query.order_by(cases.c.opened.desc(), cases.c.id.desc()).limit(limit)
    return tuple(map(from_text, work.connection.execute(query).scalars()))


def _older_than(place: Place) -> ColumnElement[bool]:
    same_moment = and_(cases.c.opened == place.opened, cases.c.id < place.id)
    return or_(cases.c.opened < place.opened, same_moment)


def _terms(which: CaseFilter) -> list[ColumnElement[bool]]:
    equal = {"state": which.state, "cause": which.cause, "make": which.make, "model": which.model}
    terms = [cases.c[name] == value for name, value in equal.items() if value]
    if which.system:
        terms.append(cases.c.systems.contains(f" {which.system} ", autoescape=True))
    terms += [cases.c.words.contains(word, autoescape=True) for word in (which.text or "").split()]
    if which.since:
        terms.append(cases.c.opened >= which.since)
    if which.until:
        terms.append(cases.c.opened <= which.until)
    return terms
