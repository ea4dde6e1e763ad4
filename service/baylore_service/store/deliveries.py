"""Addresses that hear of alerts, and messages on their way to them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import ColumnElement, delete, insert, select, update

from baylore_service.store.among import among
from baylore_service.store.records.office import Delivered, Delivery, Hook
from baylore_service.store.tables import delivered, deliveries, hooks
from baylore_service.store.work import Work

HOOK = ("id", "url", "secret", "made")
ENDED = ("id", "hook_id", "title", "made", "ended", "tries", "trouble")
# How many ended messages of an address are kept.
MOST_ENDED = 30
MESSAGE = ("shop_id", "id", "hook_id", "body", "made", "due", "tries", "trouble")


def hooks_of(work: Work, shop_id: str) -> tuple[Hook, ...]:
    """The addresses of a shop, oldest first."""
    query = select(hooks).where(hooks.c.shop_id == shop_id).order_by(hooks.c.made, hooks.c.id)
    rows = work.connection.execute(query)
    return tuple(Hook(**{name: getattr(row, name) for name in HOOK}) for row in rows)


def add_hook(work: Work, shop_id: str, hook: Hook) -> None:
    """Keep an address."""
    row = {name: getattr(hook, name) for name in HOOK}
    work.connection.execute(insert(hooks), {"shop_id": shop_id, **row})


def remove_hook(work: Work, shop_id: str, hook_id: str) -> bool:
    """Drop an address with the messages to it; False where there is none."""
    for table in (deliveries, delivered):
        work.connection.execute(delete(table).where(table.c.shop_id == shop_id, table.c.hook_id == hook_id))
    gone = work.connection.execute(delete(hooks).where(hooks.c.shop_id == shop_id, hooks.c.id == hook_id))
    return gone.rowcount > 0


def send(work: Work, messages: Iterable[Delivery]) -> None:
    """Put messages on their way."""
    for each in messages:
        work.connection.execute(insert(deliveries), {name: getattr(each, name) for name in MESSAGE})


def due(work: Work, now: datetime, *, limit: int = 50) -> tuple[Delivery, ...]:
    """Messages whose time has come, over all shops, the oldest first."""
    query = select(deliveries).where(deliveries.c.due <= now).order_by(deliveries.c.due).limit(limit)
    rows = work.connection.execute(query)
    return tuple(Delivery(**{name: getattr(row, name) for name in MESSAGE}) for row in rows)


def claim(work: Work, message: Delivery, *, until: datetime) -> bool:
    """Take a message to send; False where another process has. It is due again at `until`."""
    taken = work.connection.execute(
        update(deliveries)
        .where(*_place(message), deliveries.c.due == message.due, deliveries.c.tries == message.tries)
        .values(due=until, tries=message.tries + 1)
    )
    return taken.rowcount == 1


def fail(work: Work, message: Delivery, *, trouble: str) -> None:
    """Note why a message was not taken."""
    noted = update(deliveries).where(*_place(message)).values(trouble=trouble[:300])
    work.connection.execute(noted)


def done(work: Work, message: Delivery, ended: Delivered) -> None:
    """Drop a message that was taken or given up, and keep what became of it."""
    work.connection.execute(delete(deliveries).where(*_place(message)))
    keep(work, message.shop_id, ended)


def keep(work: Work, shop_id: str, ended: Delivered) -> None:
    """Keep what became of a message; the newest of its address stay."""
    here = delivered.c.shop_id == shop_id
    work.connection.execute(delete(delivered).where(here, delivered.c.id == ended.id))
    row = {name: getattr(ended, name) for name in ENDED}
    work.connection.execute(insert(delivered), {"shop_id": shop_id, **row})
    old = [each.id for each in ended_of(work, shop_id, ended.hook_id)[MOST_ENDED:]]
    work.connection.execute(delete(delivered).where(here, among(delivered.c.id, old)))


def ended_of(work: Work, shop_id: str, hook_id: str) -> tuple[Delivered, ...]:
    """What became of the messages to an address, the newest first."""
    here = delivered.c.shop_id == shop_id, delivered.c.hook_id == hook_id
    query = select(delivered).where(*here).order_by(delivered.c.ended.desc(), delivered.c.id)
    rows = work.connection.execute(query)
    return tuple(Delivered(**{name: getattr(row, name) for name in ENDED}) for row in rows)


def waiting(work: Work, shop_id: str, *, hook_id: str | None = None) -> tuple[Delivery, ...]:
    """The messages of a shop that are on their way, to one address where it is named."""
    query = select(deliveries).where(deliveries.c.shop_id == shop_id)
    if hook_id is not None:
        query = query.where(deliveries.c.hook_id == hook_id)
    rows = work.connection.execute(query.order_by(deliveries.c.made))
    return tuple(Delivery(**{name: getattr(row, name) for name in MESSAGE}) for row in rows)


def _place(message: Delivery) -> tuple[ColumnElement[bool], ...]:
    return deliveries.c.shop_id == message.shop_id, deliveries.c.id == message.id
