"""What a shop's store says beside its cases: its own lists joined to the shipped ones, and its tuning."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from baylore_kb.advice import SHIPPED_TUNING, Tuning
from baylore_kb.errors import BadTuning
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import OwnCause, OwnTest, with_own
from baylore_kb.tuning import from_document
from baylore_service.store import own, tunings
from baylore_service.store.records.own import OwnMinutes, OwnValue, OwnWord
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
        words={value.id: value.means for value in found if isinstance(value, OwnWord)},
    )


def tuning_of(work: Work, shop_id: str) -> Tuning:
    """The tuning of the shop's last trial where that was adopted, else the shipped one.

    One that was made for other features, by an older engine, gives the shipped one too.
    """
    last = tunings.latest(work, shop_id)
    if last is None or not last.adopted:
        return SHIPPED_TUNING
    try:
        return from_document(msgspec.json.decode(last.document))
    except BadTuning:
        return SHIPPED_TUNING
