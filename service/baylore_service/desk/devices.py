"""Phones and tablets: who asks, signing in by a one-time code, revoking."""

from __future__ import annotations

import hashlib
import re
import secrets
from datetime import datetime, timedelta
from uuid import uuid4

from baylore_service.desk import trail
from baylore_service.desk.checks import plain
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.desk.tries import Tried
from baylore_service.errors import AlreadyThere, CodeRefused, NotFound, NotSignedIn
from baylore_service.store import devices, people
from baylore_service.store.records import Actor, Device, Enrolment, Member
from baylore_service.store.work import Work

TOKEN_BYTES, CODE_BYTES = 32, 16
GIVEN_TOKEN = re.compile(r"[\x21-\x7e]{8,512}")
# How long an old token holds after the new one was used.
OVERLAP = timedelta(hours=1)
# Seen is noted to this precision: asking must not mean writing.
SEEN_EVERY = timedelta(minutes=10)


def hashed(secret: str) -> str:
    """What is kept of a token or code; both are long and random, so a plain SHA-256 hides them."""
    return hashlib.sha256(secret.encode()).hexdigest()


def who(house: House, token: str, *, address: str = "") -> Actor:
    """Whose token this is.

    Raises NotSignedIn, the same for an unknown, revoked, idle or inactive one, and TooManyTries after
    too many wrong ones from this address.
    """
    now = house.now()
    with house.store.read() as work:
        holder = devices.holder_of(work, hashed(token), at=now)
    if holder is None or idle(house, holder.actor.device, now):
        if address:
            house.tries.wrong(Tried("token", address, token), now)
        raise NotSignedIn(
            "this device is not signed in any more, or never was",
            remedy="ask a manager for a new sign-in link",
        )
    actor = holder.actor
    if holder.fresh:
        with house.store.write() as work:
            devices.promote(work, hashed(token), at=now, past_until=now + OVERLAP)
    elif actor.device.last_seen is None or now - actor.device.last_seen > SEEN_EVERY:
        with house.store.write() as work:
            devices.seen(work, actor.device.id, at=now)
    return actor


def idle(house: House, device: Device, now: datetime) -> bool:
    """Whether a device has been silent for longer than the settings allow."""
    return device.last_seen is not None and now - device.last_seen > timedelta(days=house.settings.idle_days)


def enrol(house: House, actor: Actor, member_id: str) -> Enrolment:
    """A one-time code for a device of this member. Raises WrongRole, NotFound."""
    only_managers(actor, "sign a device in for a member")
    code = secrets.token_urlsafe(CODE_BYTES)
    expires = house.now() + timedelta(hours=house.settings.enrolment_hours)
    with house.store.write() as work:
        member = people.get(work, actor.shop.id, member_id)
        if member is None or not member.active:
            raise NotFound("active member", member_id)
        devices.invite(work, member_id, code_hash=hashed(code), expires=expires)
        trail.note(house, work, actor, "made", kind="enrolment", entity=member_id)
    return Enrolment(code, expires)


def join(house: House, code: str, device_name: str, *, address: str = "") -> tuple[str, Actor]:
    """The token of a new device for its code.

    Raises CodeRefused, the same for every reason, and TooManyTries after too many wrong ones.
    """
    name = plain.said(device_name, most=plain.NAME, field="name")
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with house.store.write() as work:
        member = _member_of(work, devices.take(work, hashed(code), at=house.now()))
        if member is not None and member.active:
            _add(house, work, member, name=name, token=token)
        holder = devices.holder_of(work, hashed(token), at=house.now())
        if holder is not None:
            trail.note(house, work, holder.actor, "signed in", kind="device", entity=holder.actor.device.id)
    if holder is None:
        house.tries.wrong(Tried("code", address, code), house.now())
        raise CodeRefused(
            "this sign-in code does not work (wrong, used or too old)",
            field="code",
            remedy="ask a manager for a new sign-in link",
        )
    return token, holder.actor


def renew(house: House, actor: Actor) -> str:
    """Another token for the asking device.

    The old one holds until the new one is first used, and a while longer for what is on its way: a phone that
    never hears the answer loses nothing and asks again.
    """
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with house.store.write() as work:
        devices.offer(work, actor.device.id, next_hash=hashed(token))
    return token


def list_devices(house: House, actor: Actor) -> tuple[Device, ...]:
    """The actor's devices; for a manager those of all members."""
    mine = None if actor.member.role == "manager" else actor.member.id
    with house.store.read() as work:
        return devices.every(work, actor.shop.id, member_id=mine)


def revoke_device(house: House, actor: Actor, device_id: str) -> None:
    """Make a token worthless: one's own, for a manager anyone's. Raises NotFound."""
    if device_id not in {device.id for device in list_devices(house, actor)}:
        raise NotFound("device", device_id)
    with house.store.write() as work:
        devices.revoke(work, device_id)
        trail.note(house, work, actor, "revoked", kind="device", entity=device_id)


def issue_token(house: House, member_id: str, device_name: str, token: str | None = None) -> str:
    """The token of a new device, for the command line; a given one is taken as it is.

    Raises NotFound, BadValue (8 to 512 visible ASCII characters), AlreadyThere.
    """
    name = plain.said(device_name, most=plain.NAME, field="name")
    secret = token if token is not None else secrets.token_urlsafe(TOKEN_BYTES)
    if not GIVEN_TOKEN.fullmatch(secret):
        plain.refuse("the token is too short or holds blanks", field="token", remedy="give 8 to 512 signs")
    with house.store.write() as work:
        member = _member_of(work, member_id)
        if member is None:
            raise NotFound("member", member_id)
        if devices.token_is_taken(work, hashed(secret)):
            raise AlreadyThere("this token is taken", field="token", remedy="choose another one")
        _add(house, work, member, name=name, token=secret)
    return secret


def _add(house: House, work: Work, member: Member, *, name: str, token: str) -> Device:
    new = devices.NewDevice(str(uuid4()), name, hashed(token), house.now())
    return devices.add(work, member, new)


def _member_of(work: Work, member_id: str | None) -> Member | None:
    """The member of any shop, None for nobody."""
    shop_id = people.shop_of(work, member_id) if member_id else None
    return people.get(work, shop_id, member_id) if shop_id and member_id else None
