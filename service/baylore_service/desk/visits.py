"""Visits for neutral reasons, which tell how many cars of a model there were to fail."""

from __future__ import annotations

from datetime import datetime

from baylore_service.desk import trail
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.errors import BadValue
from baylore_service.store import visits
from baylore_service.store.records import Actor
from baylore_service.store.records.office import NeutralVisits


def count(house: House, actor: Actor, counted: NeutralVisits) -> tuple[NeutralVisits, ...]:
    """Keep a month's count of a model in the place of the one before; all counts. 0 drops it.

    Raises WrongRole, and BadValue for a month that has not begun.
    """
    only_managers(actor, "record neutral visits")
    if counted.month > house.now().strftime("%Y-%m"):
        raise BadValue(
            f"month: {counted.month} has not begun", field="month", remedy="give this month or one before"
        )
    with house.store.write(actor.shop.id) as work:
        visits.put(work, actor.shop.id, counted, at=house.now())
        trail.note(house, work, actor, "counted", kind="visits", entity=counted.month)
        return visits.every(work, actor.shop.id)


def every(house: House, actor: Actor) -> tuple[NeutralVisits, ...]:
    """All counts of the shop. Raises WrongRole."""
    only_managers(actor, "see neutral visits")
    with house.store.read() as work:
        return visits.every(work, actor.shop.id)


def by_model(house: House, actor: Actor, *, since: datetime | None, until: datetime | None) -> dict[str, int]:
    """Visits by "make model", folded, in the months that a time touches."""
    first = since.strftime("%Y-%m") if since else "0000-00"
    last = until.strftime("%Y-%m") if until else "9999-99"
    with house.store.read() as work:
        return visits.by_model(work, actor.shop.id, first=first, last=last)
