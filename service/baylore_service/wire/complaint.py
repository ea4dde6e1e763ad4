"""The question under a car, and a case about to be opened."""

from __future__ import annotations

from typing import Annotated, Any

from msgspec import UNSET, Meta, Struct

from baylore_service.wire import fields as f
from baylore_service.wire import values as v
from baylore_service.wire.decode import decode

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
    repairs: v.Repairs = ()
    skipped: v.Skips = ()
    objections: v.Objections = ()
    comes_and_goes: bool = False
    shows_when: v.ShowsWhen = ()
    as_typed: v.AsTyped = ()
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
    repairs: v.Repairs = ()
    skipped: v.Skips = ()
    objections: v.Objections = ()
    comes_and_goes: bool = False
    shows_when: v.ShowsWhen = ()
    as_typed: v.AsTyped = ()
    note: f.LongText = ""
    opened: f.Moment | None = None


class JudgeRequest(f.Incoming, frozen=True):
    """Readings to judge; the fields of one reading may stand for a list of it."""

    readings: v.Readings


class Peek(Struct):
    """Tells one reading by itself from a list of them."""

    quantity: Any = UNSET


def judge_request(body: bytes) -> JudgeRequest:
    """The readings of a body: a list of them, or one by itself."""
    if decode(body, Peek).quantity is UNSET:
        return decode(body, JudgeRequest)
    return JudgeRequest((decode(body, v.Reading),))
