"""The change log as phones follow it."""

from __future__ import annotations

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, Change


def changes(
    house: House, actor: Actor, *, after: int, limit: int = 200
) -> tuple[tuple[Change, ...], int, int]:
    """Changes after a number, the number to ask after next, and the latest number of the shop."""
    raise NotImplementedError


def revision(house: House, actor: Actor) -> int:
    """The latest number of the shop's change log, 0 where nothing happened."""
    raise NotImplementedError
