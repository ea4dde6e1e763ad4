"""What a shop's store says beside its cases: its own lists joined to the shipped ones, and its tuning."""

from __future__ import annotations

from collections.abc import Iterable

from baylore_kb.advice import SHIPPED_TUNING, Tuning
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import OwnCause, OwnTest, with_own
from baylore_service.store import own
from baylore_service.store.records.own import OwnMinutes, OwnValue
from baylore_service.store.work import Work


def lists_of(work: Work, shop_id: str, shipped: Trade) -> Trade:
    """The shipped lists with a shop's own entries; the shipped ones themselves where it has none."""
    return joined(shipped, (entry.value for entry in own.every(work, shop_id)))


def joined(shipped: Trade, values: Iterable[OwnValue]) -> Trade:
    """The shipped lists with these entries."""
    found = tuple(values)
    return with_own(
        shipped,
        [value for value in found if isinstance(value, OwnTest)],
        [value for value in found if isinstance(value, OwnCause)],
        {value.id: value.minutes for value in found if isinstance(value, OwnMinutes)},
    )


def tuning_of(work: Work, shop_id: str) -> Tuning:
    """The tuning a shop has adopted, else the shipped one."""
    return SHIPPED_TUNING
