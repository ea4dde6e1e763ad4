"""The people of the shop: listing, adding, changing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args
from uuid import uuid4

from baylore_service.desk.checks import known, plain
from baylore_service.desk.devices import enrol, issue_token, join, list_devices, revoke_device, who
from baylore_service.desk.house import House
from baylore_service.desk.renaming import rename
from baylore_service.desk.roles import only_managers
from baylore_service.errors import LastManager, NotFound
from baylore_service.store import changes as log
from baylore_service.store import people
from baylore_service.store.records import Actor, Member, Role

__all__ = [
    "add_member",
    "amend_member",
    "enrol",
    "issue_token",
    "join",
    "list_devices",
    "list_members",
    "revoke_device",
    "who",
]
FIELDS = ("name", "role", "skill", "active")


def list_members(house: House, actor: Actor) -> tuple[Member, ...]:
    """All members by name. Raises WrongRole."""
    only_managers(actor, "list the members")
    with house.store.read() as work:
        return people.every(work, actor.shop.id)


def add_member(house: House, actor: Actor, *, name: str, role: Role, skill: int = 3) -> Member:
    """A new member. Raises WrongRole, BadValue."""
    only_managers(actor, "add a member")
    member = checked(Member(str(uuid4()), name, role, skill, active=True))
    with house.store.write(actor.shop.id) as work:
        people.add(work, actor.shop.id, member)
        log.append(work, actor.shop.id, "member", member.id, at=house.now())
    return member


def amend_member(house: House, actor: Actor, member_id: str, changes: Mapping[str, Any]) -> Member:
    """Change name, role, skill or active; a new name is put on all they did.

    Raises WrongRole, NotFound, LastManager, BadValue.
    """
    only_managers(actor, "change a member")
    for field in changes:
        known.listed(field, FIELDS, field=field, what="field of a member")
    shop_id = actor.shop.id
    with house.store.write(shop_id) as work:
        before = people.get(work, shop_id, member_id)
        if before is None:
            raise NotFound("member", member_id)
        after = checked(replace(before, **changes))
        people.put(work, shop_id, after)
        if people.managers(work, shop_id) == 0:
            raise LastManager(
                f"{before.name} is the last manager",
                field="role",
                remedy="make another member a manager first",
            )
        log.append(work, shop_id, "member", member_id, at=house.now())
        rename(house, work, actor, before.name, new=after.name)
    return after


def checked(member: Member) -> Member:
    """The member with values that can be. Raises BadValue."""
    plain.number(member.skill, low=1, high=4, field="skill")
    known.listed(member.role, get_args(Role), field="role", what="role")
    return replace(member, name=plain.said(member.name, most=plain.NAME, field="name"))
