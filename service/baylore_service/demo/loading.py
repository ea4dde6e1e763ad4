"""The demo shop put into a store."""

from __future__ import annotations

from dataclasses import dataclass

from baylore_service.demo.filing import filed
from baylore_service.demo.generator import COUNT, SEED, jobs
from baylore_service.demo.world import equipment, people, shop_facts
from baylore_service.demo.written import case_id
from baylore_service.desk import members, shops, transfer
from baylore_service.desk.house import House
from baylore_service.store import cases
from baylore_service.store.records import Actor, Member, Shop

SHOP_ID = case_id("shop")


@dataclass(frozen=True, slots=True)
class DemoShop:
    """The demo shop with one technician and its manager."""

    shop: Shop
    technician: Member
    manager: Member


def load(house: House, *, seed: int = SEED, count: int = COUNT) -> DemoShop:
    """Make the shop, its members and cases; what is there already stays as it is."""
    shop = _shop(house)
    actor = shops.console(shop)
    _add_members(house, actor)
    _add_cases(house, actor, seed, count)
    there = members.list_members(house, actor)
    technician, manager = (_called(there, role) for role in ("technician", "manager"))
    return DemoShop(shop, technician, manager)


def _shop(house: House) -> Shop:
    there = next((shop for shop in shops.list_shops(house) if shop.id == SHOP_ID), None)
    return there or _new_shop(house)


def _new_shop(house: House) -> Shop:
    made = shops.create_shop(house, shop_id=SHOP_ID, **shop_facts())
    return shops.amend_shop(house, shops.console(made), equipment())


def _add_members(house: House, actor: Actor) -> None:
    """The people, into a shop that has nobody yet: one renamed or sent away is not brought back."""
    if members.list_members(house, actor):
        return
    for person in people():
        members.add_member(
            house, actor, name=person.name, role=person.role, skill=person.skill, rights=person.rights
        )


def _add_cases(house: House, actor: Actor, seed: int, count: int) -> None:
    """The cases, into a shop that has none yet."""
    with house.store.read() as work:
        if cases.revisions(work, actor.shop.id):
            return
    files = {file.id.encode(): file for file in filed(jobs(seed, count), house.now())}
    transfer.import_lines(house, actor, list(files), parse=files.__getitem__)


def _called(there: tuple[Member, ...], role: str) -> Member:
    """The most skilled active member of a role."""
    able = [member for member in there if member.role == role and member.active]
    return max(able, key=lambda member: member.skill)
