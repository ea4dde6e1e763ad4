"""The change log as phones follow it."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk.house import House
from baylore_service.errors import Behind
from baylore_service.store import cases
from baylore_service.store import changes as log
from baylore_service.store.records import Actor, Change

MOST = 500


def changes(
    house: House, actor: Actor, *, after: int, limit: int = 200
) -> tuple[tuple[Change, ...], int, int]:
    """Changes after a number, the number to ask after next, and the latest number of the shop.

    A case comes with its latest change only.
    """
    shop_id = actor.shop.id
    with house.store.read() as work:
        found = log.after(work, shop_id, after, limit=max(1, min(limit, MOST)))
        put = [change.id for change in found if change.kind == "case" and change.op == "put"]
        files = cases.get_many(work, shop_id, put)
        latest = log.latest(work, shop_id)
    by_revision = {file.revision: file for file in files.values()}
    told = tuple(replace(change, case=by_revision.get(change.seq)) for change in found)
    return told, found[-1].seq if found else min(after, latest), latest


def revision(house: House, actor: Actor) -> int:
    """The latest number of the shop's change log, 0 where nothing happened."""
    with house.store.read() as work:
        return log.latest(work, actor.shop.id)


def must_have(house: House, actor: Actor, seen: int) -> None:
    """Raises Behind where the store does not have a change that the device has seen."""
    latest = revision(house, actor)
    if latest < seen:
        raise Behind(seen=seen, latest=latest)
