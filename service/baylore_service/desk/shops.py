"""The shop itself: making, reading, changing."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, Shop, UnitSystem


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
    raise NotImplementedError


def first_shop(house: House) -> Shop | None:
    """The shop that was made first, None where there is none."""
    raise NotImplementedError


def list_shops(house: House) -> tuple[Shop, ...]:
    """All shops, oldest first."""
    raise NotImplementedError


def console(shop: Shop) -> Actor:
    """The actor of the command line: a manager without device, whose name is not kept on cases."""
    raise NotImplementedError


def get_shop(house: House, actor: Actor) -> Shop:
    """The actor's shop as it is now."""
    raise NotImplementedError


def amend_shop(house: House, actor: Actor, changes: Mapping[str, object]) -> Shop:
    """Change name, currency, unit_system, rate_per_hour or time_zone. Raises WrongRole, BadValue."""
    raise NotImplementedError
