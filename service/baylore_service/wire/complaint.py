"""The question under a car, and a case about to be opened."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from baylore_service.wire import fields as f
from baylore_service.wire import values as v

Words = Annotated[
    str,
    Meta(
        max_length=4000,
        pattern=f.LINES,
        examples=["rear washer runs by itself when the heated screen is on"],
    ),
]


class Complaint(f.Incoming, frozen=True):
    """A complaint with all that was measured and tried so far."""

    complaint: Words
    vehicle: v.Vehicle = v.Vehicle()
    codes: v.Codes = ()
    symptoms: v.Symptoms = ()
    readings: v.Readings = ()
    tests: v.Tests = ()
    parts: v.Parts = ()
    comes_and_goes: bool = False
    minutes_spent: f.Minutes | None = None
    limit: Annotated[int, Meta(ge=1, le=50)] = 10


class CaseDraft(f.Incoming, frozen=True):
    """A case to open."""

    complaint: Words
    id: f.Id | None = None
    vehicle: v.Vehicle = v.Vehicle()
    codes: v.Codes = ()
    symptoms: v.Symptoms = ()
    readings: v.Readings = ()
    tests: v.Tests = ()
    parts: v.Parts = ()
    comes_and_goes: bool = False
    note: f.LongText = ""
    opened: f.Moment | None = None


class JudgeRequest(f.Incoming, frozen=True):
    """Readings to judge; the fields of one reading may stand for a list of it."""

    readings: v.Readings
