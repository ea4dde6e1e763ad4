"""The shop itself: making, reading, changing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any, get_args
from uuid import uuid4
from zoneinfo import available_timezones

from baylore_service.desk.checks import known, plain
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.errors import AlreadyThere, NotFound
from baylore_service.store import changes as log
from baylore_service.store import shops
from baylore_service.store.records import Actor, Device, Member, Shop, UnitSystem

FIELDS = ("name", "currency", "unit_system", "rate_per_hour", "time_zone")


def create_shop(
    house: House,
    *,
    name: str,
    currency: str = "USD",
    unit_system: UnitSystem = "si",
    rate_per_hour: float = 95.0,
    time_zone: str = "UTC",
    shop_id: str | None = None,
) -> Shop:
    """A new shop without members, for the command line. Raises BadValue, AlreadyThere."""
    shop = checked(Shop(shop_id or str(uuid4()), name, currency, unit_system, rate_per_hour, time_zone))
    plain.said(shop.id, most=64, field="id")
    with house.store.write() as work:
        if shops.get(work, shop.id) is not None:
            raise AlreadyThere(f"shop {shop.id} is there already", field="id", remedy="choose another id")
        shops.add(work, shop, at=house.now())
        log.append(work, shop.id, "shop", shop.id, at=house.now())
    return shop


def list_shops(house: House) -> tuple[Shop, ...]:
    """All shops, oldest first."""
    with house.store.read() as work:
        return shops.every(work)


def console(shop: Shop) -> Actor:
    """The actor of the command line: a manager without device, whose name is not kept on cases."""
    member = Member("", "command line", "manager", skill=4, active=True)
    return Actor(shop, member, Device("", "command line", "", "command line", None, revoked=False))


def get_shop(house: House, actor: Actor) -> Shop:
    """The actor's shop as it is now."""
    with house.store.read() as work:
        shop = shops.get(work, actor.shop.id)
    if shop is None:
        raise NotFound("shop", actor.shop.id)
    return shop


def amend_shop(house: House, actor: Actor, changes: Mapping[str, Any]) -> Shop:
    """Change name, currency, unit_system, rate_per_hour or time_zone. Raises WrongRole, BadValue."""
    only_managers(actor, "change the shop")
    for field in changes:
        known.listed(field, FIELDS, field=field, what="field of a shop")
    with house.store.write(actor.shop.id) as work:
        before = shops.get(work, actor.shop.id)
        if before is None:
            raise NotFound("shop", actor.shop.id)
        after = checked(replace(before, **changes))
        shops.put(work, after)
        log.append(work, after.id, "shop", after.id, at=house.now())
    return after


def checked(shop: Shop) -> Shop:
    """The shop with values that can be. Raises BadValue."""
    plain.number(shop.rate_per_hour, low=0.01, high=1e5, field="rate_per_hour")
    known.listed(shop.unit_system, get_args(UnitSystem), field="unit_system", what="unit system")
    if not re.fullmatch(r"[A-Z]{3}", shop.currency):
        plain.refuse(
            f"{shop.currency[:20]!r} is no currency", field="currency", remedy="give ISO 4217, as in EUR"
        )
    known.listed(shop.time_zone, _zones(), field="time_zone", what="time zone")
    return replace(shop, name=plain.said(shop.name, most=plain.NAME, field="name"))


@cache
def _zones() -> frozenset[str]:
    return frozenset(available_timezones() | {"UTC"})
