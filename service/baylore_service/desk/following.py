"""Asking after a car two weeks later, and what its answer does to the case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from baylore_kb.office import FollowUp, follow_ups
from baylore_kb.recurrence.sightings import utc
from baylore_kb.values import Case, Followed
from baylore_service.desk import comeback, files
from baylore_service.desk.cases import add_new
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.errors import BadValue, NotClosed
from baylore_service.store.records import Actor, CaseFile, FollowedUp, Kept, Receipt, Reopening
from baylore_service.store.work import Work


def due(house: House, actor: Actor, most: int) -> tuple[FollowUp, ...]:
    """Whom to ask after, the riskiest first."""
    snapshot = house.hosts.snapshot(actor.shop.id)
    return follow_ups(snapshot.cases.values(), now=house.now(), trade=snapshot.trade, most=most)


def followed(
    house: House,
    actor: Actor,
    case_id: str,
    outcome: Followed,
    *,
    as_case: str | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Keep what was heard of a closed case. The same said again changes nothing.

    Cured proves the cure. Come back links the case the car came back as: the one named, else a later visit of
    the same car for the same system, else a new open case. Raises NotFound, NotClosed, BadValue.
    """
    known = house.hosts.snapshot(actor.shop.id).cases

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id)
        _refuse_unless_followable(file, outcome)
        if file.followed and file.followed.outcome == outcome and (as_case in (None, *file.returned_as)):
            return file
        told = replace(file, followed=FollowedUp(outcome, house.now(), files.by(actor)))
        if outcome != "came back":
            return files.keep(house, work, actor, replace(told, verified=told.verified or outcome == "cured"))
        later = _linked(house, work, actor, told, later_id=as_case or _later_visit(known, file))
        returned = tuple(dict.fromkeys((*told.returned_as, later.id)))
        return files.keep(house, work, actor, replace(told, returned_as=returned, verified=False))

    result = once(house, actor, receipt, act)
    house.nudges.nudge(actor.shop.id)
    return result


def _refuse_unless_followable(file: CaseFile, outcome: Followed) -> None:
    if file.state != "closed":
        raise NotClosed(f"case {file.id} is {file.state}", remedy="close it before the car is asked after")
    if outcome == "cured" and file.returned_as:
        raise BadValue(
            "outcome: the car came back already, as another case",
            field="outcome",
            remedy="say it of the case it came back as",
        )


def _linked(house: House, work: Work, actor: Actor, old: CaseFile, *, later_id: str | None) -> CaseFile:
    """The case the car came back as, pointing to the old one; a new one where none is there."""
    if later_id is None and old.returned_as:
        return files.find(work, actor, old.returned_as[-1])
    if later_id is None:
        return add_new(house, work, actor, comeback.comeback(house, actor, old, Reopening()))
    later = files.find(work, actor, later_id)
    if later.comeback_of == old.id:
        return later
    if later.comeback_of is not None or later.id == old.id or later.opened < old.opened:
        raise BadValue(
            f"case: {later.id} is no later visit that may be a return of this one",
            field="case",
            remedy="name a later case of the car that is no return of another, or leave it out",
        )
    return files.keep(house, work, actor, replace(later, comeback_of=old.id))


def _later_visit(known: Mapping[str, Case], old: CaseFile) -> str | None:
    """The first later visit of the same car that is still open or was for the same system; None for none."""
    vin, closed = old.vehicle.vin, utc(old.closed)
    if vin is None or closed is None:
        return None
    later = [
        (opened, case.id)
        for case in known.values()
        if case.complaint.vehicle.vin == vin
        and case.id != old.id
        and case.comeback_of is None
        and (opened := utc(case.opened)) is not None
        and opened >= closed
        and (case.state == "open" or case.cause_system == old.cause_system)
    ]
    return min(later)[1] if later else None
