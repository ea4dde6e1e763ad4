"""Devices, their token hashes and the codes that enrol them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from types import SimpleNamespace
from typing import Any

from sqlalchemy import ColumnElement, RowMapping, Table, and_, delete, insert, select, update

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
    stamps = {"made": new.at, "last_seen": new.at, "revoked": False}
    work.connection.execute(insert(devices), row | stamps)
    return Device(new.id, new.name, member.id, member.name, new.at, revoked=False)


def actor_of(work: Work, token_hash: str) -> Actor | None:
    """Who has this token: None for an unknown or revoked one and for a member who is not active."""
    known = and_(devices.c.token_hash == token_hash, ~devices.c.revoked, members.c.active)
    query = select(devices, members, shops).select_from(devices.join(members).join(shops)).where(known)
    found = work.connection.execute(query).mappings().one_or_none()
    if found is None:
        return None
    member = to_member(_row_of(found, members))
    device = _row_of(found, devices)
    device.member_name = member.name
    return Actor(to_shop(_row_of(found, shops)), member, to_device(device))


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
