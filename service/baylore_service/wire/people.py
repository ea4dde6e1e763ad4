"""The shop, its members and their devices as they travel."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from baylore_service.wire import fields as f

Currency = Annotated[str, Meta(min_length=3, max_length=3, pattern=f.CURRENCY)]


class Right(f.Incoming, frozen=True):
    """A right (a certificate, a permission) and the systems or tests that need it."""

    right: f.Name
    needed_for: Annotated[tuple[f.TestId, ...], Meta(min_length=1, max_length=200)]


Lacks = Annotated[tuple[f.Tool, ...], Meta(max_length=100)]
Rights = Annotated[tuple[Right, ...], Meta(max_length=50)]
Held = Annotated[tuple[f.Name, ...], Meta(max_length=50)]


class Shop(f.Outgoing, frozen=True):
    """The shop's habits."""

    id: str
    name: str
    currency: str
    unit_system: f.UnitSystem
    rate_per_hour: float
    time_zone: str
    lacks: tuple[str, ...]
    rights: tuple[Right, ...]
    shares: bool


class ShopPatch(f.Incoming, frozen=True):
    """Changes to the shop; what is left out stays."""

    name: f.Name | UnsetType = UNSET
    currency: Currency | UnsetType = UNSET
    unit_system: f.UnitSystem | UnsetType = UNSET
    rate_per_hour: f.Rate | UnsetType = UNSET
    time_zone: f.Name | UnsetType = UNSET
    lacks: Lacks | UnsetType = UNSET
    rights: Rights | UnsetType = UNSET
    shares: bool | UnsetType = UNSET


class Member(f.Outgoing, frozen=True):
    """A person of the shop."""

    id: str
    name: str
    role: f.Role
    skill: int
    active: bool
    rights: tuple[str, ...]


class MemberList(f.Outgoing, frozen=True):
    """The members of the shop."""

    members: tuple[Member, ...]


class NewMember(f.Incoming, frozen=True):
    """A member to add."""

    name: f.Name
    role: f.Role
    skill: f.Skill = 3
    rights: Held = ()


class MemberPatch(f.Incoming, frozen=True):
    """Changes to a member; what is left out stays."""

    name: f.Name | UnsetType = UNSET
    role: f.Role | UnsetType = UNSET
    skill: f.Skill | UnsetType = UNSET
    active: bool | UnsetType = UNSET
    rights: Held | UnsetType = UNSET


class Leave(f.Incoming, frozen=True):
    """How a member leaves: other words they are named by, whether texts are changed, or only told."""

    also: Annotated[tuple[f.Name, ...], Meta(max_length=10)] = ()
    in_texts: bool = True
    preview: bool = False


class NamedIn(f.Outgoing, frozen=True):
    """A text of a case that names the member."""

    case: str
    field: str
    text: str


class Left(f.Outgoing, frozen=True):
    """The member as they are kept, how many cases carried the name, and the first 60 texts that held it."""

    member: Member
    cases: int
    found: tuple[NamedIn, ...]


class EnrolmentRequest(f.Incoming, frozen=True):
    """Whose phone is to be signed in."""

    member: f.Name


class Enrolment(f.Outgoing, frozen=True):
    """A sign-in code for one use, as a link and as a drawing to scan."""

    code: str
    link: str
    qr: str
    expires: datetime


class Join(f.Incoming, frozen=True):
    """A sign-in code to trade for a token."""

    code: Annotated[str, Meta(min_length=8, max_length=200, pattern=f.ENROLMENT)]
    name: f.Name


class DeviceName(f.Outgoing, frozen=True):
    """A device by id and name."""

    id: str
    name: str


class MemberName(f.Outgoing, frozen=True):
    """The member who asks."""

    id: str
    name: str
    role: f.Role
    skill: int
    rights: tuple[str, ...]


class Joined(f.Outgoing, frozen=True):
    """The token of the new device; it is shown this once."""

    token: str
    device: DeviceName
    member: MemberName
    shop: Shop


class Service(f.Outgoing, frozen=True):
    """Which service answers: its version, and a digest of its code that tells two builds apart."""

    version: str
    build: str


class Token(f.Outgoing, frozen=True):
    """A renewed token; it is shown this once."""

    token: str


class Me(f.Outgoing, frozen=True):
    """Who asks, from which device, in which shop."""

    member: MemberName
    device: DeviceName
    shop: Shop
    revision: int
    service: Service


class Device(f.Outgoing, frozen=True):
    """An enrolled device; `this` is the one that asks."""

    id: str
    name: str
    member: str
    last_seen: datetime | None
    revoked: bool
    this: bool


class DeviceList(f.Outgoing, frozen=True):
    """Devices."""

    devices: tuple[Device, ...]
