"""Who there is: the shop, its members, their devices."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Role = Literal["technician", "manager"]
UnitSystem = Literal["si", "us"]


@dataclass(frozen=True, slots=True)
class RightRule:
    """A right (a certificate, a permission) and the systems or tests, by id, that need it here."""

    right: str
    needed_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shop:
    """The tenant: name, currency (ISO 4217), unit habit, labour rate per hour, time zone (IANA).

    `lacks` are tools it has not; `rights` say who may not do what; `shares`: it takes part in what shops of
    this service share.
    """

    id: str
    name: str
    currency: str
    unit_system: UnitSystem
    rate_per_hour: float
    time_zone: str
    lacks: tuple[str, ...] = ()
    rights: tuple[RightRule, ...] = ()
    shares: bool = False


@dataclass(frozen=True, slots=True)
class Member:
    """A person of the shop; `skill` 1 to 4 is the hardest test they may do, `rights` what they hold."""

    id: str
    name: str
    role: Role
    skill: int
    active: bool
    rights: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Device:
    """A phone or tablet with a token of its own."""

    id: str
    name: str
    member_id: str
    member_name: str
    last_seen: datetime | None
    revoked: bool


@dataclass(frozen=True, slots=True)
class Actor:
    """Who acts, for which shop, from which device; `latest` the shop's last change when that was looked up,
    None where it was not.
    """

    shop: Shop
    member: Member
    device: Device
    latest: int | None = None


@dataclass(frozen=True, slots=True)
class Enrolment:
    """A one-time code that signs a device in until `expires`."""

    code: str
    expires: datetime
