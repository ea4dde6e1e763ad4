"""Cases: open, read, list, change, delete."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from baylore_kb.values import Labour
from baylore_service.desk import amend, cursors, files, links, note
from baylore_service.desk.checks import known
from baylore_service.desk.checks.file import checked
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.roles import only_managers
from baylore_service.desk.stepkinds import KINDS
from baylore_service.errors import AlreadyThere
from baylore_service.store import cases, lists
from baylore_service.store.records import (
    Actor,
    CaseDraft,
    CaseFile,
    CaseFilter,
    Kept,
    New,
    Page,
    Receipt,
)
from baylore_service.store.work import Work

MOST_LISTED = 100


def open_case(
    house: House, actor: Actor, draft: CaseDraft, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """Keep a new case. Raises BadValue, AlreadyThere (an id of this shop), KeyReused."""
    file = checked(_drafted(house, actor, draft), house.trade_of(actor), house.now())
    file = replace(file, title=note.title(file))
    return once(house, actor, receipt, lambda work: add_new(house, work, actor, file))


def add_new(house: House, work: Work, actor: Actor, file: CaseFile) -> CaseFile:
    """Keep a case whose id must be new in this shop."""
    if cases.get(work, actor.shop.id, file.id) is not None:
        raise AlreadyThere(f"case {file.id} is there already", field="id", remedy="read it, or make a new id")
    return files.add(house, work, actor, file)


def get_case(house: House, actor: Actor, case_id: str) -> CaseFile:
    """The case of this shop. Raises NotFound."""
    with house.store.read() as work:
        return files.find(work, actor, case_id)


def list_cases(
    house: House, actor: Actor, which: CaseFilter, *, cursor: str | None = None, limit: int = 20
) -> Page:
    """Cases newest first, 1 to 100 at once. Raises BadValue for a cursor of another filter or of nobody."""
    if which.system:
        known.system(which.system, house.trade, field="system")
    folded = cursors.folded(which)
    after = cursors.place_of(cursor, folded)
    size = max(1, min(limit, MOST_LISTED))
    with house.store.read() as work:
        found = lists.page(work, actor.shop.id, folded, after=after, limit=size + 1)
    more = cursors.cursor_after(found[size - 1], folded) if len(found) > size else None
    return Page(found[:size], more)


def amend_case(
    house: House,
    actor: Actor,
    case_id: str,
    changes: Mapping[str, object],
    *,
    expected_revision: int | None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Change fields of a case: values already parsed, keyed by CaseFile field.

    Fields: complaint_text, vehicle, symptoms, codes, comes_and_goes, shows_when, note, title, correction,
    cause, cause_title, verification, labour. `vehicle` and `labour` take a whole value or a mapping of
    only the fields to change. None sets back where that can be.
    Raises NotFound, StaleRevision, BadValue, KeyReused.
    """

    def _act(work: Work) -> CaseFile:
        before = files.find(work, actor, case_id, expected=expected_revision)
        after = amend.amended(before, changes, house.trade_of(actor), house.now())
        return before if after == before else files.keep(house, work, actor, after)

    return once(house, actor, receipt, _act)


def delete_case(house: House, actor: Actor, case_id: str, *, expected_revision: int | None) -> None:
    """Delete a case with its photos. Raises WrongRole, NotFound, StaleRevision."""
    only_managers(actor, "delete a case")
    with house.store.write(actor.shop.id) as work:
        file = files.find(work, actor, case_id, expected=expected_revision)
        links.cut(house, work, actor, file)
        files.remove(house, work, actor, file.id)


def _drafted(house: House, actor: Actor, draft: CaseDraft) -> CaseFile:
    """The case of a draft, unchecked and without its number."""
    now = house.now()
    return CaseFile(
        id=files.new_id(draft.id),
        revision=0,
        state="open",
        title="",
        opened=draft.opened or now,
        closed=None,
        updated=now,
        complaint_text=draft.complaint_text,
        vehicle=draft.vehicle,
        symptoms=draft.symptoms,
        codes=draft.codes,
        comes_and_goes=draft.comes_and_goes,
        shows_when=draft.shows_when,
        as_typed=draft.as_typed,
        **_steps(house, actor, draft),
        note=draft.note,
        labour=Labour(rate_per_hour=actor.shop.rate_per_hour),
        by=files.by(actor),
    )


def _steps(house: House, actor: Actor, draft: CaseDraft) -> dict[str, Any]:
    """All steps of a draft, kept now."""
    found: dict[str, Any] = {}
    for kind in KINDS:
        given: tuple[New[Any], ...] = getattr(draft, kind.field)
        found[kind.field] = tuple(kind.step(files.stamp(house, actor, each.id), each.value) for each in given)
    return found
