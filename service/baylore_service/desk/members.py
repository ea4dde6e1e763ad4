"""Members and their devices: who asks, adding, enrolling, revoking."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, Device, Enrolment, Member, Role


def who(house: House, token: str) -> Actor:
    """Whose token this is. Raises NotSignedIn for an unknown, revoked or inactive one."""
    raise NotImplementedError


def list_members(house: House, actor: Actor) -> tuple[Member, ...]:
    """All members by name. Raises WrongRole."""
    raise NotImplementedError


def add_member(house: House, actor: Actor, *, name: str, role: Role, skill: int = 3) -> Member:
    """A new member. Raises WrongRole, BadValue."""
    raise NotImplementedError


def amend_member(house: House, actor: Actor, member_id: str, changes: Mapping[str, object]) -> Member:
    """Change name, role, skill or active. Raises WrongRole, NotFound, LastManager, BadValue."""
    raise NotImplementedError


def enrol(house: House, actor: Actor, member_id: str) -> Enrolment:
    """A one-time code for a device of this member. Raises WrongRole, NotFound."""
    raise NotImplementedError


def join(house: House, code: str, device_name: str) -> tuple[str, Actor]:
    """The token of a new device for its code. Raises CodeRefused."""
    raise NotImplementedError


def list_devices(house: House, actor: Actor) -> tuple[Device, ...]:
    """The actor's devices; for a manager those of all members."""
    raise NotImplementedError


def revoke_device(house: House, actor: Actor, device_id: str) -> None:
    """Make a token worthless: one's own, for a manager anyone's. Raises NotFound."""
    raise NotImplementedError


def issue_token(house: House, member_id: str, device_name: str, token: str | None = None) -> str:
    """The token of a new device, for the command line; `token` of 32 or more characters is taken as is."""
    raise NotImplementedError
