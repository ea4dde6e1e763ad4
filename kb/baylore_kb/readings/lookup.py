"""Find the listed quantity that a reading names."""

from __future__ import annotations

from rapidfuzz import fuzz

from baylore_kb.errors import UnknownQuantity
from baylore_kb.trade.model import Quantity, Trade

NEAR = 3
NEAR_ENOUGH = 55.0


def quantity_named(name: str, trade: Trade) -> Quantity:
    """The quantity of that id or other accepted name.

    Raises UnknownQuantity naming the nearest ids, by their letters and by their titles.
    """
    plain = name.strip().casefold()
    found = trade.quantities.get(trade.also_quantities.get(plain, plain))
    if found is None:
        raise UnknownQuantity(name, near=_near(plain, trade))
    return found


def _near(name: str, trade: Trade) -> tuple[str, ...]:
    scored = {quantity.id: _nearness(name, quantity, trade) for quantity in trade.quantities.values()}
    close = (id_ for id_, score in scored.items() if score >= NEAR_ENOUGH)
    return tuple(sorted(close, key=lambda id_: -scored[id_])[:NEAR])


def _nearness(name: str, quantity: Quantity, trade: Trade) -> float:
    others = (other for other, id_ in trade.also_quantities.items() if id_ == quantity.id)
    names = (quantity.id, quantity.title.casefold(), *others)
    return max(_score(name.replace("_", " "), other.replace("_", " ")) for other in names)


def _score(words: str, other: str) -> float:
    """Letters in order count as much as words in common, so that a shared "pressure" is not enough."""
    return (
        fuzz.partial_ratio(words, other) + fuzz.token_set_ratio(words, other) + fuzz.ratio(words, other)
    ) / 3.0
