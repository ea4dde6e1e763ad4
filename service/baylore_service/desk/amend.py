"""Changes to the fields of a case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from baylore_kb.trade.model import Trade
from baylore_kb.trade.own.ids import words_of
from baylore_kb.values import Labour, Vehicle
from baylore_kb.vehicle import without_old_vin
from baylore_service.desk import note
from baylore_service.desk.checks.file import checked
from baylore_service.desk.checks.plain import refuse
from baylore_service.desk.money import summed
from baylore_service.store.records import CaseFile

# What a field is set back to by None.
EMPTY: Mapping[str, Any] = {
    "vehicle": Vehicle(),
    "symptoms": (),
    "codes": (),
    "comes_and_goes": False,
    "shows_when": (),
    "as_typed": (),
    "note": "",
    "title": "",
    "correction": None,
    "cause_title": "",
    "verification": "",
    "labour": Labour(),
}
FIELDS = frozenset(EMPTY) | {"complaint_text", "cause"}


def amended(file: CaseFile, changes: Mapping[str, object], trade: Trade, now: datetime) -> CaseFile:
    """The case with changed fields, checked. Raises BadValue."""
    for name in changes:
        if name not in FIELDS:
            refuse("cannot be changed here", field=name, remedy=f"change {', '.join(sorted(FIELDS))}")
    values = {name: _value(file, name, value) for name, value in changes.items()}
    changed = replace(file, **values)
    if "cause" in changes:
        changed = _with_cause(changed, trade)
    if changed.cause != file.cause and changed.cause_title == file.cause_title:
        changed = replace(changed, cause_title=words_of(changed.cause or ""))
    changed = checked(changed, trade, now, only=changes)
    changed = summed(changed) if "labour" in changes else changed
    return _titled(file, changed)


def _value(file: CaseFile, name: str, value: Any) -> Any:
    """The new value of a field: a mapping changes only what it names."""
    if isinstance(value, Mapping):
        value = replace(getattr(file, name), **value)
    if isinstance(value, Vehicle):
        return without_old_vin(file.vehicle, value)
    return EMPTY.get(name) if value is None else value


def _with_cause(file: CaseFile, trade: Trade) -> CaseFile:
    """The case with the title and system of its new cause."""
    if file.state != "closed" and file.cause:
        refuse("an open case has no cause yet", field="cause", remedy="close the case with its cause")
    if file.state == "closed" and not file.cause:
        refuse("a closed case keeps a cause", field="cause", remedy="name another cause, or reopen the case")
    found = trade.causes.get(file.cause or "")
    return replace(file, cause_title=found.title, cause_system=found.system) if found else file


def _titled(before: CaseFile, after: CaseFile) -> CaseFile:
    """The case with a fresh title where the old one was drafted, or none is left."""
    drafted = before.title == note.title(before) and after.title == before.title
    return replace(after, title=note.title(after)) if drafted or not after.title else after
