"""From a step of a case to what is answered."""

from __future__ import annotations

from typing import Any

from baylore_kb import values as kb
from baylore_service.store import records as r
from baylore_service.wire import cases as c
from baylore_service.wire import values as w


def _stamp(stamp: r.Stamp) -> dict[str, Any]:
    """What every step says: which it is, when it was kept and by whom."""
    return {"id": stamp.id, "at": stamp.at, "by": stamp.by}


def measure(amount: kb.Measure) -> w.Measure:
    """A number with its unit."""
    return w.Measure(amount.value, amount.unit)


def reading(step: r.ReadingStep) -> c.ReadingStep:
    """A reading of a case."""
    value = step.reading
    return c.ReadingStep(
        **_stamp(step.stamp),
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


def test(step: r.TestStep) -> c.TestStep:
    """A test of a case."""
    done = step.test
    return c.TestStep(
        **_stamp(step.stamp),
        test=done.test,
        outcome=done.outcome,
        minutes=done.minutes,
        note=done.note,
        part=done.part,
        fault_present=done.fault_present,
    )


def part(step: r.PartStep) -> c.PartStep:
    """A part tried in a case."""
    part = step.part
    return c.PartStep(
        **_stamp(step.stamp),
        component=part.component,
        source=part.source,
        price=part.price,
        result=part.result,
        note=part.note,
        charged=part.charged,
    )


def repair(step: r.RepairStep) -> c.RepairStep:
    """A repair without a new part that was tried in a case."""
    done = step.repair
    return c.RepairStep(
        **_stamp(step.stamp), cause=done.cause, result=done.result, minutes=done.minutes, note=done.note
    )


def skipped(step: r.SkipStep) -> c.SkipStep:
    """A proposed test of a case that was not done."""
    said = step.skipped
    return c.SkipStep(**_stamp(step.stamp), test=said.test, because=said.because, note=said.note)


def objection(step: r.ObjectionStep) -> c.ObjectionStep:
    """A proposed cause of a case that is held to be wrong."""
    said = step.objection
    return c.ObjectionStep(**_stamp(step.stamp), cause=said.cause, because=said.because, note=said.note)
