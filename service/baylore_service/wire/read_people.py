"""From what was sent about the shop to what the desk takes."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from msgspec import UNSET

from baylore_service.store.records import Member, RightRule
from baylore_service.wire import people as p
from baylore_service.wire.patch import given_fields


def new_member(sent: p.NewMember) -> Member:
    """A member to add."""
    return Member(str(uuid4()), sent.name.strip(), sent.role, sent.skill, active=True, rights=sent.rights)


def shop_changes(sent: p.ShopPatch) -> dict[str, Any]:
    """The fields of the shop that a patch changes."""
    given = given_fields(sent)
    if sent.rights is UNSET:
        return given
    return given | {"rights": tuple(RightRule(each.right, each.needed_for) for each in sent.rights)}
