"""The change log of a shop: numbers from 1 without a gap, only ever added to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from sqlalchemy import func, insert, select, update

from baylore_service.store import acts
from baylore_service.store.among import among
from baylore_service.store.records import Actor, Change, EntityKind, Op
from baylore_service.store.tables import changes, shops
from baylore_service.store.work import Work

DONE: dict[Op, str] = {"put": "changed", "delete": "deleted"}


def append(
    work: Work,
    by: Actor,
    kind: EntityKind,
    id: str,
    *,
    op: Op = "put",
    at: datetime,
    fields: tuple[str, ...] = (),
) -> int:
    """Log a change with who made it; its number. The shop's row stays locked until the work ends."""
    shop_id = by.shop.id
    count = update(shops).where(shops.c.id == shop_id).values(latest=shops.c.latest + 1)
    seq = work.connection.execute(count.returning(shops.c.latest)).scalar_one()
    row = {"shop_id": shop_id, "seq": seq, "kind": kind, "entity": id, "op": op, "at": at}
    work.connection.execute(insert(changes), row)
    acts.note(work, by, kind, id, done=DONE[op], at=at, fields=fields)
    return int(seq)


def after(work: Work, shop_id: str, seq: int, *, limit: int | None = None) -> tuple[Change, ...]:
    """Changes with a greater number, in order, without their cases."""
    query = (
        select(changes.c.seq, changes.c.kind, changes.c.entity, changes.c.op)
        .where(changes.c.shop_id == shop_id, changes.c.seq > seq)
        .order_by(changes.c.seq)
        .limit(limit)
    )
    return tuple(Change(row.seq, row.kind, row.entity, row.op) for row in work.connection.execute(query))


def kinds(work: Work, shop_id: str, *, after: int) -> frozenset[str]:
    """What kinds of things changed after a number."""
    query = select(changes.c.kind).distinct().where(changes.c.shop_id == shop_id, changes.c.seq > after)
    return frozenset(work.connection.execute(query).scalars())


def latest(work: Work, shop_id: str) -> int:
    """The number of the last change, 0 where there is none."""
    query = select(shops.c.latest).where(shops.c.id == shop_id)
    return int(work.connection.execute(query).scalar() or 0)


def newest(work: Work, shop_ids: Iterable[str]) -> dict[str, int]:
    """The number of the last change of each of these shops that there are."""
    query = select(shops.c.id, shops.c.latest).where(among(shops.c.id, shop_ids))
    return {row.id: row.latest for row in work.connection.execute(query)}


def gaps(work: Work, shop_id: str) -> Sequence[str]:
    """What is wrong with the log's numbers, in words; empty when nothing is."""
    query = select(func.count(), func.min(changes.c.seq), func.max(changes.c.seq))
    count, low, high = work.connection.execute(query.where(changes.c.shop_id == shop_id)).one()
    found = []
    if count and (low != 1 or high != count):
        found.append(f"{count} changes numbered {low} to {high}")
    if latest(work, shop_id) != (high or 0):
        found.append(f"the shop counts {latest(work, shop_id)} changes, the log ends at {high or 0}")
    return found
