"""The case a car comes back with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from baylore_kb.values import Labour, Vehicle
from baylore_kb.vehicle import without_old_vin
from baylore_service.desk import files, note
from baylore_service.desk.checks.file import checked
from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, Reopening


def comeback(house: House, actor: Actor, old: CaseFile, reopening: Reopening) -> CaseFile:
    """The new case: complaint and vehicle of the old where nothing else is said; codes are read anew."""
    now = house.now()
    file = CaseFile(
        id=files.new_id(reopening.id),
        revision=0,
        state="open",
        title="",
        opened=now,
        closed=None,
        updated=now,
        complaint_text=reopening.complaint_text or old.complaint_text,
        vehicle=_vehicle(old.vehicle, reopening.vehicle),
        symptoms=old.symptoms if reopening.complaint_text is None else (),
        comes_and_goes=old.comes_and_goes,
        shows_when=old.shows_when if reopening.complaint_text is None else (),
        note=reopening.note,
        labour=Labour(rate_per_hour=actor.shop.rate_per_hour),
        comeback_of=old.id,
        by=files.by(actor),
    )
    good = checked(file, house.trade_of(actor), now)
    return replace(good, title=note.title(good))


def _vehicle(old: Vehicle, given: Vehicle | Mapping[str, Any] | None) -> Vehicle:
    if given is None or isinstance(given, Vehicle):
        return given or old
    return without_old_vin(old, replace(old, **given))
