"""The shop itself: making, reading, changing."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import cache
from typing import Any, cast, get_args
from uuid import uuid4
from zoneinfo import available_timezones

from baylore_kb.trade.model import Trade
from baylore_service.desk.checks import known, plain
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.roles import only_managers
from baylore_service.errors import AlreadyThere, NotFound
from baylore_service.store import changes as log
from baylore_service.store import shared, shops
from baylore_service.store.records import Actor, Device, Kept, Member, Receipt, RightRule, Shop, UnitSystem
from baylore_service.store.work import Work

FIELDS = ("name", "currency", "unit_system", "rate_per_hour", "time_zone", "lacks", "rights", "shares")
MOST_TOOLS, MOST_RIGHTS, MOST_NEEDING = 100, 50, 200


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
        log.append(work, console(shop), "shop", shop.id, at=house.now(), fields=("added",))
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
    """Change name, currency, unit_system, rate_per_hour, time_zone, lacks, rights or shares.

    A shop that no longer shares takes back all it shared. Raises WrongRole, BadValue.
    """
    return cast(Shop, amend_once(house, actor, changes))


def amend_once(
    house: House, actor: Actor, changes: Mapping[str, Any], *, receipt: Receipt | None = None
) -> Shop | Kept:
    """As `amend_shop`; the same request again gets the kept answer. Raises KeyReused too."""
    only_managers(actor, "change the shop")
    for field in changes:
        known.listed(field, FIELDS, field=field, what="field of a shop")
    trade = house.trade_of(actor)

    def _act(work: Work) -> Shop:
        before = shops.get(work, actor.shop.id)
        if before is None:
            raise NotFound("shop", actor.shop.id)
        after = checked(equipped(replace(before, **changes), trade, only=changes))
        shops.put(work, after)
        if not after.shares:
            shared.withdraw_all(work, after.id, at=house.now())
        log.append(work, actor, "shop", after.id, at=house.now(), fields=tuple(changes))
        return after

    return once(house, actor, receipt, _act)


def equipped(shop: Shop, trade: Trade, *, only: Collection[str]) -> Shop:
    """The shop with lacking tools and needed rights that can be, of these fields those that change."""
    if "lacks" in only:
        lacks = plain.names(shop.lacks, most=MOST_TOOLS, field="lacks")
        for at, name in enumerate(lacks):
            known.tool(name, trade, field=f"lacks[{at}]")
        shop = replace(shop, lacks=lacks)
    if "rights" in only:
        shop = replace(shop, rights=_rules(shop.rights, trade))
    return shop


def _rules(rules: tuple[RightRule, ...], trade: Trade) -> tuple[RightRule, ...]:
    """Rights with the systems and tests that need them; a right named twice needs all of both."""
    plain.names(tuple(rule.right for rule in rules), most=MOST_RIGHTS, field="rights")
    needing: dict[str, RightRule] = {}
    for at, rule in enumerate(rules):
        named = " ".join(plain.said(rule.right, most=plain.NAME, field=f"rights[{at}].right").split())
        before = needing.get(named.casefold(), RightRule(named, ()))
        found = known.places(rule.needed_for, trade, most=MOST_NEEDING, field=f"rights[{at}].needed_for")
        places = tuple(dict.fromkeys((*before.needed_for, *found)))
        needing[named.casefold()] = replace(before, needed_for=places)
    return tuple(needing.values())


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
