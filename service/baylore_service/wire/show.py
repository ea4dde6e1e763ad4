"""From a case of the desk to what is answered."""

from __future__ import annotations

from typing import Any

from baylore_kb import values as kb
from baylore_kb.vehicle import vin_says
from baylore_kb.vin import LENGTH
from baylore_service.desk.leaving import Left
from baylore_service.store import records as r
from baylore_service.wire import cases as c
from baylore_service.wire import people as p
from baylore_service.wire import show_steps
from baylore_service.wire import values as w
from baylore_service.wire.feed import Change
from baylore_service.wire.fields import FromVin

FILLED_BY_VIN: tuple[FromVin, ...] = ("year", "make")


def case(file: r.CaseFile) -> c.Case:
    """A whole case."""
    return c.Case(
        **_brief_fields(file),
        readings=tuple(show_steps.reading(step) for step in file.readings),
        tests=tuple(show_steps.test(step) for step in file.tests),
        parts=tuple(show_steps.part(step) for step in file.parts),
        repairs=tuple(show_steps.repair(step) for step in file.repairs),
        skipped=tuple(show_steps.skipped(step) for step in file.skipped),
        objections=tuple(show_steps.objection(step) for step in file.objections),
        photos=tuple(photo(each) for each in file.photos),
    )


def brief(file: r.CaseFile) -> c.CaseBrief:
    """A case without its steps."""
    return c.CaseBrief(**_brief_fields(file))


def _brief_fields(file: r.CaseFile) -> dict[str, Any]:
    return {
        "id": file.id,
        "state": file.state,
        "revision": file.revision,
        "title": file.title,
        "opened": file.opened,
        "closed": file.closed,
        "updated": file.updated,
        "complaint": file.complaint_text,
        "vehicle": vehicle(file.vehicle, this_year=file.updated.year),
        "symptoms": file.symptoms,
        "codes": file.codes,
        "comes_and_goes": file.comes_and_goes,
        "shows_when": file.shows_when,
        "as_typed": file.as_typed,
        **_outcome_fields(file),
        "note": file.note,
        "labour": labour(file.labour),
        "cost": cost(file.cost),
        "comeback_of": file.comeback_of,
        "returned_as": file.returned_as,
        "joined_into": file.joined_into,
        "joined": file.joined,
        "followed": followed(file.followed) if file.followed else None,
        "by": file.by,
    }


def _outcome_fields(file: r.CaseFile) -> dict[str, Any]:
    return {
        "cause": file.cause,
        "cause_title": file.cause_title,
        "cause_system": file.cause_system,
        "correction": correction(file.correction) if file.correction else None,
        "confirmed_by": file.confirmed_by,
        "verification": file.verification,
        "verified": file.verified,
        "unresolved_reason": file.unresolved_reason,
    }


def followed(heard: r.FollowedUp) -> c.FollowedUp:
    """What was heard of a car."""
    return c.FollowedUp(heard.outcome, heard.at, heard.by)


def vehicle(car: kb.Vehicle, *, this_year: int | None = None) -> w.Vehicle:
    """A vehicle with what its VIN says; a year after `this_year` + 1 cannot be."""
    # Of a shared case the VIN is cut to its beginning, which is no VIN and says nothing.
    whole = car.vin is not None and len(car.vin) == LENGTH
    told = vin_says(car, this_year=this_year) if whole else None
    return w.Vehicle(
        year=car.year,
        make=car.make,
        model=car.model,
        engine=car.engine,
        transmission=car.transmission,
        odometer=show_steps.measure(car.odometer) if car.odometer else None,
        vin=car.vin,
        traits=tuple(sorted(car.traits)),
        from_vin=tuple(name for name in FILLED_BY_VIN if name in car.from_vin),
        vin_says=w.VinSays(told.year, told.maker, told.year_note, told.against) if told else None,
    )


def correction(done: kb.Correction) -> w.Correction:
    """What was done."""
    return w.Correction(done.action, done.component, done.text)


def labour(minutes: kb.Labour) -> w.Labour:
    """Minutes and rate."""
    return w.Labour(minutes.diagnosis_min, minutes.repair_min, minutes.not_billed_min, minutes.rate_per_hour)


def cost(money: kb.Cost) -> w.Cost:
    """Money with its total, to the cent."""
    parts, labour_, other = round(money.parts, 2), round(money.labour, 2), round(money.other, 2)
    return w.Cost(parts, labour_, other, total=round(money.total, 2), currency=money.currency)


def photo(each: r.Photo) -> c.Photo:
    """What is known of a photo."""
    return c.Photo(each.id, each.type, each.bytes, each.note, each.step, each.at, each.by)


def change(entry: r.Change) -> Change:
    """An entry of the change log."""
    return Change(entry.seq, entry.kind, entry.id, entry.op, case(entry.case) if entry.case else None)


def shop(record: r.Shop) -> p.Shop:
    """The shop."""
    return p.Shop(
        record.id,
        record.name,
        record.currency,
        record.unit_system,
        record.rate_per_hour,
        record.time_zone,
        lacks=record.lacks,
        rights=tuple(p.Right(rule.right, rule.needed_for) for rule in record.rights),
        shares=record.shares,
    )


def member(record: r.Member) -> p.Member:
    """A member."""
    return p.Member(
        record.id, record.name, record.role, record.skill, active=record.active, rights=record.rights
    )


def left(found: Left) -> p.Left:
    """A member who left."""
    named = tuple(p.NamedIn(each.case, each.field, each.text) for each in found.found)
    return p.Left(member(found.member), found.cases, named)


def member_name(record: r.Member) -> p.MemberName:
    """The asking member."""
    return p.MemberName(record.id, record.name, record.role, record.skill, rights=record.rights)


def device(record: r.Device, *, asking: str) -> p.Device:
    """A device; `asking` is the id of the one that asks."""
    return p.Device(
        record.id,
        record.name,
        record.member_name,
        record.last_seen,
        revoked=record.revoked,
        this=record.id == asking,
    )
