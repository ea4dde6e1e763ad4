"""Devices, their token hashes and the codes that enrol them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from hmac import compare_digest
from types import SimpleNamespace
from typing import Any

from sqlalchemy import ColumnElement, RowMapping, Table, and_, delete, insert, or_, select, update

from baylore_service.store.people import to_member
from baylore_service.store.records import Actor, Device, Member
from baylore_service.store.shops import to_shop
from baylore_service.store.tables import devices, enrolments, members, shops
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class NewDevice:
    """A device about to be kept, with the hash of its token."""

    id: str
    name: str
    token_hash: str
    at: datetime


def add(work: Work, member: Member, new: NewDevice) -> Device:
    """Keep a new device of a member."""
    row = {"id": new.id, "member_id": member.id, "name": new.name, "token_hash": new.token_hash}
    stamps = {"made": new.at, "token_made": new.at, "last_seen": new.at, "revoked": False}
    work.connection.execute(insert(devices), row | stamps)
    return Device(new.id, new.name, member.id, member.name, new.at, revoked=False)


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a token; `fresh` where it is a renewed one used for the first time."""

    actor: Actor
    fresh: bool


def holder_of(work: Work, token_hash: str, *, at: datetime) -> Holder | None:
    """Who has this token: None for an unknown or revoked one and for a member who is not active."""
    past = and_(devices.c.past_hash == token_hash, devices.c.past_until > at)
    fits = or_(devices.c.token_hash == token_hash, devices.c.next_hash == token_hash, past)
    known = and_(fits, ~devices.c.revoked, members.c.active)
    query = select(devices, members, shops).select_from(devices.join(members).join(shops)).where(known)
    found = work.connection.execute(query).mappings().one_or_none()
    if found is None:
        return None
    member = to_member(_row_of(found, members))
    device = _row_of(found, devices)
    device.member_name = member.name
    actor = Actor(to_shop(_row_of(found, shops)), member, to_device(device), found[shops.c.latest])
    return Holder(actor, fresh=compare_digest(device.next_hash or "", token_hash))


def offer(work: Work, device_id: str, *, next_hash: str) -> None:
    """Keep the hash of a renewed token; the one in use holds until the new one is used."""
    here = update(devices).where(devices.c.id == device_id, ~devices.c.revoked)
    work.connection.execute(here.values(next_hash=next_hash))


def promote(work: Work, next_hash: str, *, at: datetime, past_until: datetime) -> None:
    """Put a renewed token in the place of the old one, which holds a while longer."""
    moved = {"past_hash": devices.c.token_hash, "past_until": past_until, "token_hash": next_hash}
    here = update(devices).where(devices.c.next_hash == next_hash, ~devices.c.revoked)
    work.connection.execute(here.values(**moved, next_hash=None, token_made=at, last_seen=at))


def _row_of(found: RowMapping, table: Table) -> SimpleNamespace:
    """One table's columns of a joined row."""
    return SimpleNamespace(**{column.name: found[column] for column in table.c})


def seen(work: Work, device_id: str, *, at: datetime) -> None:
    """Note when a device was last seen."""
    work.connection.execute(update(devices).where(devices.c.id == device_id).values(last_seen=at))


def every(work: Work, shop_id: str, *, member_id: str | None = None) -> tuple[Device, ...]:
    """The devices of a shop or of one member, the last seen first."""
    mine: list[ColumnElement[bool]] = [members.c.shop_id == shop_id]
    if member_id is not None:
        mine.append(members.c.id == member_id)
    query = select(devices, members.c.name.label("member_name")).join_from(devices, members).where(*mine)
    rows = work.connection.execute(query.order_by(devices.c.last_seen.desc(), devices.c.id))
    return tuple(map(to_device, rows))


def revoke(work: Work, device_id: str) -> None:
    """Make a device's token worthless."""
    work.connection.execute(update(devices).where(devices.c.id == device_id).values(revoked=True))


def leave(work: Work, member_id: str, *, name: str) -> None:
    """Make all tokens of a member worthless, drop their codes, and put a name of nobody on their devices."""
    here = update(devices).where(devices.c.member_id == member_id)
    work.connection.execute(here.values(revoked=True, name=name))
    work.connection.execute(delete(enrolments).where(enrolments.c.member_id == member_id))


def token_is_taken(work: Work, token_hash: str) -> bool:
    """Whether a device, revoked or not, has this token."""
    query = select(devices.c.id).where(devices.c.token_hash == token_hash)
    return work.connection.execute(query).first() is not None


def invite(work: Work, member_id: str, *, code_hash: str, expires: datetime) -> None:
    """Keep the hash of a one-time code."""
    row = {"code_hash": code_hash, "member_id": member_id, "expires": expires, "used": None}
    work.connection.execute(insert(enrolments), row)


def take(work: Work, code_hash: str, *, at: datetime) -> str | None:
    """Use a code up; its member, None for an unknown, used or expired one."""
    fits = and_(enrolments.c.code_hash == code_hash, enrolments.c.used.is_(None), enrolments.c.expires > at)
    taken = update(enrolments).where(fits).values(used=at).returning(enrolments.c.member_id)
    return work.connection.execute(taken).scalar()


def forget_codes(work: Work, *, before: datetime) -> int:
    """Drop the codes that ran out before a moment; how many."""
    return work.connection.execute(delete(enrolments).where(enrolments.c.expires < before)).rowcount


def to_device(row: Any) -> Device:
    """The device of a row of `devices` with its member's name."""
    return Device(row.id, row.name, row.member_id, row.member_name, row.last_seen, row.revoked)
