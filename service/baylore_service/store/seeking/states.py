"""How far each shop's derived tables are, and what was counted over its cases."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import text

from baylore_service.store.seeking.tables import SCHEMA
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class State:
    """How far a shop's tables are: filled to a change, with news after `floor` and counts of `counted`."""

    number: int
    reader: str
    lists: str
    filled: int
    floor: int
    counted: int


def locked(work: Work, shop_id: str) -> State:
    """The state of a shop's tables, which no other process fills until the work ends."""
    new = text(f"INSERT INTO {SCHEMA}.shops (shop_id) VALUES (:shop) ON CONFLICT DO NOTHING")
    work.connection.execute(new, {"shop": shop_id})
    return _state(work, shop_id, " FOR UPDATE") or State(0, "", "", 0, 0, 0)


def state(work: Work, shop_id: str) -> State | None:
    """The state of a shop's tables, None where there are none."""
    return _state(work, shop_id, "")


def _state(work: Work, shop_id: str, how: str) -> State | None:
    names = "number, reader, lists, filled, floor, counted"
    query = text(f"SELECT {names} FROM {SCHEMA}.shops WHERE shop_id = :shop{how}")
    row = work.connection.execute(query, {"shop": shop_id}).one_or_none()
    return None if row is None else State(*row)


def restart(work: Work, shop_id: str, *, revision: int) -> None:
    """Note that the tables were filled anew: what was counted before is void."""
    said = text(f"UPDATE {SCHEMA}.shops SET floor = :to, counted = 0, counts = NULL WHERE shop_id = :shop")
    work.connection.execute(said, {"to": revision, "shop": shop_id})


def filled(work: Work, shop_id: str, *, to: int, reader: str, lists: str) -> None:
    """Note how far the tables are."""
    said = text(
        f"UPDATE {SCHEMA}.shops SET filled = :to, reader = :reader, lists = :lists WHERE shop_id = :shop"
    )
    work.connection.execute(said, {"to": to, "reader": reader, "lists": lists, "shop": shop_id})


def keep_counts(work: Work, shop_id: str, counts: bytes, *, revision: int) -> None:
    """Keep what was counted up to a revision; older news are needed no more."""
    said = text(
        f"UPDATE {SCHEMA}.shops SET counts = :counts, counted = :to, floor = :to"
        " WHERE shop_id = :shop AND counted < :to"
    )
    work.connection.execute(said, {"counts": counts, "to": revision, "shop": shop_id})
    old = text(f"DELETE FROM {SCHEMA}.news WHERE shop_id = :shop AND seq <= :to")
    work.connection.execute(old, {"shop": shop_id, "to": revision})


def counts(work: Work, shop_id: str) -> bytes | None:
    """What was counted and kept, None where nothing was."""
    query = text(f"SELECT counts FROM {SCHEMA}.shops WHERE shop_id = :shop")
    found = work.connection.execute(query, {"shop": shop_id}).scalar()
    return None if found is None else bytes(found)
