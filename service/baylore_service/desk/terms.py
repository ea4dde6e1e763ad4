"""What a shop charges, lacks and may do, as the engine reckons with it."""

from __future__ import annotations

from baylore_kb.values import Terms
from baylore_service.store.records import Shop


def terms_of(shop: Shop) -> Terms:
    """The money, tools and rights of a shop as the engine reckons with them."""
    needed = tuple((place, rule.right) for rule in shop.rights for place in rule.needed_for)
    return Terms(
        rate_per_hour=shop.rate_per_hour,
        currency=shop.currency,
        lacks=frozenset(shop.lacks),
        rights_needed=needed,
    )
