"""What the manager wants to see: what keeps failing, and which parts do not cure it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from baylore_kb.parts import ComponentParts, part_outcomes
from baylore_kb.recurrence import Recurrences
from baylore_kb.recurrence import recurrences as counted
from baylore_kb.values import Terms
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.store.records import Actor, Shop


def recurrences(
    house: House,
    actor: Actor,
    by: Sequence[str],
    *,
    since: datetime | None = None,
    until: datetime | None = None,
) -> Recurrences:
    """Failures of closed cases grouped by model, system, component, cause. Raises WrongRole."""
    only_managers(actor, "see what keeps failing")
    cases = house.hosts.snapshot(actor.shop.id).cases.values()
    return counted(cases, by=tuple(by), since=since, until=until, trade=house.trade_of(actor))


def parts(house: House, actor: Actor, component: str | None = None) -> tuple[ComponentParts, ...]:
    """Outcomes of parts by component and source; of one component where it is named."""
    cases = house.hosts.snapshot(actor.shop.id).cases.values()
    return part_outcomes(cases, component=component, terms=terms_of(actor.shop), trade=house.trade_of(actor))


def terms_of(shop: Shop) -> Terms:
    """The money, tools and rights of a shop as the engine reckons with them."""
    needed = tuple((place, rule.right) for rule in shop.rights for place in rule.needed_for)
    return Terms(
        rate_per_hour=shop.rate_per_hour,
        currency=shop.currency,
        lacks=frozenset(shop.lacks),
        rights_needed=needed,
    )
