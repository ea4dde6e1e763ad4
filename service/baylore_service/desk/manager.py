"""What the manager wants to see: what keeps failing, since when, how far parts run, and which cure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from baylore_kb.parts import ComponentParts, part_outcomes
from baylore_kb.recurrence import (
    Asked,
    Book,
    Monthly,
    PartLife,
    Recurrence,
    Recurrences,
    dated_book,
    key_of,
    part_life,
    read,
    row_by_month,
)
from baylore_service.desk import visits
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.desk.terms import terms_of
from baylore_service.errors import BadValue
from baylore_service.store.records import Actor

ACT = "see what keeps failing"


@dataclass(frozen=True, slots=True)
class Question:
    """What is counted by, in what time, of at least how many cases, and which rows are wanted.

    `only` are names the rows must have; expected counts rest on all cases all the same.
    """

    by: Sequence[str]
    since: datetime | None = None
    until: datetime | None = None
    least: int = 2
    limit: int | None = None
    only: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Timeline:
    """One row with its months."""

    row: Recurrence
    months: Monthly


def recurrences(house: House, actor: Actor, question: Question) -> Recurrences:
    """Failures of closed cases grouped by names of car and failure. Raises WrongRole, UnknownGrouping."""
    only_managers(actor, ACT)
    asked = _asked(house, actor, question)
    if question.since or question.until:
        return read(_dated(house, actor, question), asked, dated=True)
    with house.books.book(actor.shop.id, question.by) as book:
        return read(book, asked)


def timeline(house: House, actor: Actor, question: Question) -> Timeline:
    """One row month by month. Raises WrongRole, and BadValue where `only` does not name one row."""
    only_managers(actor, ACT)
    asked = _asked(house, actor, question)
    if question.since or question.until:
        return _timeline(_dated(house, actor, question), question, asked)
    with house.books.book(actor.shop.id, question.by) as book:
        return _timeline(book, question, asked)


def _timeline(book: Book, question: Question, asked: Asked) -> Timeline:
    missing = next((name for name in book.by if name not in question.only), None)
    if missing:
        raise BadValue(
            f"{missing} is needed to tell which row",
            field=missing,
            remedy=f"add &{missing}= as the row's key has it",
        )
    key = key_of(book, question.only)
    if key is None:
        raise BadValue(
            f"no closed case is counted under {', '.join(question.only.values())[:200]}",
            field=book.by[0],
            remedy="take the key of a row of GET /api/recurrences",
        )
    return Timeline(*row_by_month(book, key, asked))


def life(house: House, actor: Actor, model: str, component: str) -> PartLife:
    """How far a component runs on the cars of a model. Raises WrongRole."""
    only_managers(actor, ACT)
    snapshot = house.hosts.snapshot(actor.shop.id)
    with house.books.book(actor.shop.id, ("model", "component")) as book:
        key = key_of(book, {"model": model, "component": component})
        seen = book.groups[key].facts.odometer_km if key else None
    return part_life(
        snapshot.cases.values(), model=model, component=component, trade=snapshot.trade, quartiles=seen
    )


def _asked(house: House, actor: Actor, question: Question) -> Asked:
    counted = visits.by_model(house, actor, since=question.since, until=question.until)
    return Asked(question.least, question.limit, now=house.now(), visits=counted, only=question.only)


def _dated(house: House, actor: Actor, question: Question) -> Book:
    """A book of a time: of all cases that are counted, those inside it."""
    with house.books.book(actor.shop.id, question.by) as book:
        found = list(book.cases())
        trade = book.trade
    return dated_book(found, question.by, since=question.since, until=question.until, trade=trade)


def parts(house: House, actor: Actor, component: str | None = None) -> tuple[ComponentParts, ...]:
    """Outcomes of parts by component and source; of one component where it is named."""
    cases = house.hosts.snapshot(actor.shop.id).cases.values()
    return part_outcomes(cases, component=component, terms=terms_of(actor.shop), trade=house.trade_of(actor))
