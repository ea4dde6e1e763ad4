"""From a case of the desk to what is answered."""

from __future__ import annotations

from typing import Any

from baylore_kb import values as kb
from baylore_service.store import records as r
from baylore_service.wire import cases as c
from baylore_service.wire import people as p
from baylore_service.wire import values as w
from baylore_service.wire.feed import Change


def case(file: r.CaseFile) -> c.Case:
    """A whole case."""
    return c.Case(
        **_brief_fields(file),
        readings=tuple(reading_step(step) for step in file.readings),
        tests=tuple(test_step(step) for step in file.tests),
        parts=tuple(part_step(step) for step in file.parts),
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
        "vehicle": vehicle(file.vehicle),
        "symptoms": file.symptoms,
        "codes": file.codes,
        "comes_and_goes": file.comes_and_goes,
        **_outcome_fields(file),
        "note": file.note,
        "labour": labour(file.labour),
        "cost": cost(file.cost),
        "comeback_of": file.comeback_of,
        "returned_as": file.returned_as,
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


def vehicle(car: kb.Vehicle) -> w.Vehicle:
    """A vehicle; its traits in the order of the alphabet."""
    return w.Vehicle(
        year=car.year,
        make=car.make,
        model=car.model,
        engine=car.engine,
        transmission=car.transmission,
        odometer=measure(car.odometer) if car.odometer else None,
        vin=car.vin,
        traits=tuple(sorted(car.traits)),
    )


def measure(amount: kb.Measure) -> w.Measure:
    """A number with its unit."""
    return w.Measure(amount.value, amount.unit)


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


def reading_step(step: r.ReadingStep) -> c.ReadingStep:
    """A reading of a case."""
    value = step.reading
    return c.ReadingStep(
        id=step.stamp.id,
        at=step.stamp.at,
        by=step.stamp.by,
        quantity=value.quantity,
        value=value.value,
        unit=value.unit,
        point=value.point,
        when=value.when,
        conditions={
            name: measure(each) if isinstance(each, kb.Measure) else each
            for name, each in value.conditions.items()
        },
    )


def test_step(step: r.TestStep) -> c.TestStep:
    """A test of a case."""
    done = step.test
    return c.TestStep(
        id=step.stamp.id,
        at=step.stamp.at,
        by=step.stamp.by,
        test=done.test,
        outcome=done.outcome,
        minutes=done.minutes,
        note=done.note,
        part=done.part,
        fault_present=done.fault_present,
    )


def part_step(step: r.PartStep) -> c.PartStep:
    """A part tried in a case."""
    part = step.part
    return c.PartStep(
        id=step.stamp.id,
        at=step.stamp.at,
        by=step.stamp.by,
        component=part.component,
        source=part.source,
        price=part.price,
        result=part.result,
        note=part.note,
        charged=part.charged,
    )


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
    )


def member(record: r.Member) -> p.Member:
    """A member."""
    return p.Member(record.id, record.name, record.role, record.skill, record.active)


def member_name(record: r.Member) -> p.MemberName:
    """The asking member."""
    return p.MemberName(record.id, record.name, record.role, record.skill)


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
