"""Who changed what: for the manager to read."""

from __future__ import annotations

from baylore_service.desk import doors
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.store import acts
from baylore_service.store.acts import Act
from baylore_service.store.records import Actor
from baylore_service.store.work import Work


def note(house: House, work: Work, by: Actor, done: str, *, kind: str, entity: str) -> None:
    """Keep an act that is no line of the change log, in the same work; told where it opens a door."""
    acts.note(work, by, kind, entity, done=done, at=house.now())
    doors.tell(house, work, by.shop, done, kind=kind)


def listed(house: House, actor: Actor, *, before: int | None, limit: int) -> tuple[Act, ...]:
    """Acts before a number, the newest first. Raises WrongRole."""
    only_managers(actor, "see who changed what")
    with house.store.read() as work:
        return acts.before(work, actor.shop.id, before, limit=limit)
