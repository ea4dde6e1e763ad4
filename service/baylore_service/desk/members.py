"""The people of the shop: listing, adding, changing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, cast, get_args
from uuid import uuid4

from baylore_service.desk import doors
from baylore_service.desk.checks import known, plain
from baylore_service.desk.devices import enrol, issue_token, join, list_devices, renew, revoke_device, who
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.renaming import rename
from baylore_service.desk.roles import only_managers
from baylore_service.errors import LastManager, NotFound
from baylore_service.store import changes as log
from baylore_service.store import people
from baylore_service.store.records import Actor, Kept, Member, Receipt, Role
from baylore_service.store.work import Work

__all__ = [
    "add_member",
    "add_once",
    "amend_member",
    "amend_once",
    "enrol",
    "issue_token",
    "join",
    "list_devices",
    "list_members",
    "renew",
    "revoke_device",
    "who",
]
FIELDS = ("name", "role", "skill", "active", "rights")
MOST_RIGHTS = 50


def list_members(house: House, actor: Actor) -> tuple[Member, ...]:
    """All members by name. Raises WrongRole."""
    only_managers(actor, "list the members")
    with house.store.read() as work:
        return people.every(work, actor.shop.id)


def add_member(
    house: House, actor: Actor, *, name: str, role: Role, skill: int = 3, rights: tuple[str, ...] = ()
) -> Member:
    """A new member. Raises WrongRole, BadValue."""
    made = add_once(house, actor, Member(str(uuid4()), name, role, skill, active=True, rights=rights))
    return cast(Member, made)


def add_once(house: House, actor: Actor, new: Member, *, receipt: Receipt | None = None) -> Member | Kept:
    """Keep a new member; the same request again gets the kept answer. Raises as `add_member`, KeyReused."""
    only_managers(actor, "add a member")
    member = checked(new)

    def _act(work: Work) -> Member:
        people.add(work, actor.shop.id, member)
        log.append(work, actor, "member", member.id, at=house.now(), fields=("added",))
        return member

    return once(house, actor, receipt, _act)


def amend_member(house: House, actor: Actor, member_id: str, changes: Mapping[str, Any]) -> Member:
    """Change name, role, skill, active or rights; a new name is put on all they did.

    Raises WrongRole, NotFound, LastManager, BadValue.
    """
    return cast(Member, amend_once(house, actor, member_id, changes))


def amend_once(
    house: House,
    actor: Actor,
    member_id: str,
    changes: Mapping[str, Any],
    *,
    receipt: Receipt | None = None,
) -> Member | Kept:
    """As `amend_member`; the same request again gets the kept answer. Raises KeyReused too."""
    only_managers(actor, "change a member")
    for field in changes:
        known.listed(field, FIELDS, field=field, what="field of a member")
    return once(house, actor, receipt, lambda work: amend_in(house, work, actor, member_id, changes=changes))


def amend_in(house: House, work: Work, actor: Actor, member_id: str, *, changes: Mapping[str, Any]) -> Member:
    """Change a member in work that is open. Raises NotFound, LastManager, BadValue."""
    shop_id = actor.shop.id
    before = people.get(work, shop_id, member_id)
    if before is None:
        raise NotFound("member", member_id)
    after = checked(replace(before, **changes))
    people.put(work, shop_id, after)
    if people.managers(work, shop_id) == 0:
        raise LastManager(
            f"{before.name} is the last manager", field="role", remedy="make another member a manager first"
        )
    log.append(work, actor, "member", member_id, at=house.now(), fields=tuple(changes))
    if after.role == "manager" != before.role:
        doors.tell(house, work, actor.shop, "made a manager", kind="member")
    rename(house, work, actor, before.name, new=after.name)
    return after


def checked(member: Member) -> Member:
    """The member with values that can be. Raises BadValue."""
    plain.number(member.skill, low=1, high=4, field="skill")
    known.listed(member.role, get_args(Role), field="role", what="role")
    rights = plain.names(member.rights, most=MOST_RIGHTS, field="rights")
    return replace(member, name=plain.said(member.name, most=plain.NAME, field="name"), rights=rights)
