"""Members of a shop, put and got as plain values."""

from __future__ import annotations

from typing import Any

from sqlalchemy import func, insert, select, update

from baylore_service.store.columns import list_text, to_words
from baylore_service.store.records import Member
from baylore_service.store.tables import members
from baylore_service.store.work import Work


def add(work: Work, shop_id: str, member: Member) -> None:
    """Keep a new member."""
    row = {"id": member.id, "shop_id": shop_id, **columns(member)}
    work.connection.execute(insert(members), row)


def put(work: Work, shop_id: str, member: Member) -> None:
    """Keep a changed member."""
    here = update(members).where(members.c.shop_id == shop_id, members.c.id == member.id)
    work.connection.execute(here.values(**columns(member)))


def get(work: Work, shop_id: str, member_id: str) -> Member | None:
    """The member of this shop, None where there is none."""
    query = select(members).where(members.c.shop_id == shop_id, members.c.id == member_id)
    row = work.connection.execute(query).one_or_none()
    return None if row is None else to_member(row)


def every(work: Work, shop_id: str) -> tuple[Member, ...]:
    """All members by name."""
    query = select(members).where(members.c.shop_id == shop_id).order_by(members.c.name, members.c.id)
    return tuple(map(to_member, work.connection.execute(query)))


def shop_of(work: Work, member_id: str) -> str | None:
    """The shop of a member, None for nobody."""
    return work.connection.execute(select(members.c.shop_id).where(members.c.id == member_id)).scalar()


def managers(work: Work, shop_id: str) -> int:
    """How many active managers a shop has."""
    query = select(func.count()).select_from(members)
    return work.connection.execute(
        query.where(members.c.shop_id == shop_id, members.c.role == "manager", members.c.active)
    ).scalar_one()


def columns(member: Member) -> dict[str, object]:
    """What a member's row holds besides its keys."""
    known = {"name": member.name, "role": member.role, "skill": member.skill, "active": member.active}
    return known | {"rights": list_text(member.rights)}


def to_member(row: Any) -> Member:
    """The member of a row of `members`."""
    return Member(row.id, row.name, row.role, row.skill, row.active, to_words(row.rights))
