"""Forgetting what is of no use any more."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from baylore_service.desk.house import House
from baylore_service.desk.tries import SPAN
from baylore_service.store import acts, devices, receipts, tries

CODES_KEPT = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Tidied:
    """How many kept answers and sign-in codes were dropped."""

    receipts: int
    codes: int


def tidy(house: House) -> Tidied:
    """Drop answers kept longer than the settings say and codes that ran out a week ago."""
    now = house.now()
    with house.store.write() as work:
        tries.forget(work, before=now - SPAN)
        acts.forget(work, before=now - timedelta(days=house.settings.trail_days))
        return Tidied(
            receipts=receipts.forget(work, before=now - timedelta(days=house.settings.receipt_days)),
            codes=devices.forget_codes(work, before=now - CODES_KEPT),
        )
