"""The kinds of text and numbers that travel, with the limits the OpenAPI document shows."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal
from uuid import UUID

from msgspec import Meta, Struct

# The look-ahead refuses the trailing newline that `$` alone lets pass.
LINE = r"^[^\u0000-\u001f\u007f-\u009f]*$(?!\n)"
LINES = r"^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]*$"
LISTED = r"^[a-z0-9][a-z0-9_.]*$(?!\n)"
OWN_TEST = r"^own\.[a-z0-9_]+$(?!\n)"
OWN_CAUSE = r"^own\.[^\u0000-\u001f\u007f-\u009f]+$(?!\n)"
MONTH = r"^[0-9]{4}-(0[1-9]|1[0-2])$(?!\n)"
CURRENCY = r"^[A-Z]{3}$(?!\n)"
ENROLMENT = r"^[A-Za-z0-9_-]+$(?!\n)"

Name = Annotated[str, Meta(min_length=1, max_length=80, pattern=LINE)]
Word = Annotated[str, Meta(max_length=60, pattern=LINE)]
Title = Annotated[str, Meta(max_length=200, pattern=LINE)]
ShortText = Annotated[str, Meta(max_length=1000, pattern=LINES)]
LongText = Annotated[str, Meta(max_length=8000, pattern=LINES)]
Tool = Annotated[str, Meta(min_length=1, max_length=60, pattern=LINE)]
Unit = Annotated[str, Meta(min_length=1, max_length=40, pattern=LINE)]
ListedId = Annotated[str, Meta(max_length=120, pattern=LISTED)]
CarWord = Annotated[str, Meta(min_length=1, max_length=80, pattern=LINE)]
TestId = Annotated[str, Meta(min_length=1, max_length=200, pattern=LINE)]
CauseId = Annotated[str, Meta(min_length=1, max_length=200, pattern=LINE)]
CodeText = Annotated[str, Meta(min_length=1, max_length=20, pattern=LINE, examples=["B1342", "p0420"])]
VinText = Annotated[str, Meta(min_length=1, max_length=40, pattern=LINE)]

Number = Annotated[float, Meta(ge=-1e12, le=1e12)]
Money = Annotated[float, Meta(ge=0, le=1e7)]
Credit = Annotated[float, Meta(ge=-1e7, le=1e7)]
Minutes = Annotated[float, Meta(ge=0, le=100_000)]
Rate = Annotated[float, Meta(gt=0, le=100_000)]
Year = Annotated[int, Meta(ge=1950, le=2100, description="Up to next year.")]
FromVin = Literal["year", "make"]
Origin = Literal["typed", "vin", "words"]
Skill = Annotated[int, Meta(ge=1, le=4)]
Moment = Annotated[datetime, Meta(tz=True)]

State = Literal["open", "closed", "unresolved"]
When = Literal["before", "after"]
Source = Literal["maker", "aftermarket", "rebuilt", "used", "own stock"]
Result = Literal["cured", "partly", "no change", "failed later"]
Followed = Literal["cured", "came back", "not reached"]
RepairResult = Literal["cured", "partly", "no change"]
SkipReason = Literal["no tool", "no right", "no access", "not now", "other"]
Objection = Literal["already renewed", "proved good", "not on this car", "does not fit"]
Reason = Literal["no fault found", "declined", "referred"]
Role = Literal["technician", "manager"]
UnitSystem = Literal["si", "us"]
Id = UUID

# What a failed pattern means, in words for the person who typed it.
PATTERN_WORDS: dict[str, tuple[str, str]] = {
    LINE: ("holds a control character or a line break", "write it on one line, without control characters"),
    LINES: ("holds a control character", "remove the control characters (NUL and the like)"),
    LISTED: ("is not an id of a list", "use an id as given by GET /api/trade/..."),
    OWN_TEST: ("is not the id of an own test", "leave it out: it follows from the title"),
    OWN_CAUSE: ("is not the id of an own cause", "leave it out: it follows from the title"),
    MONTH: ("is not a month", "write it as 2026-03"),
    CURRENCY: ("is not a currency", "give the three capital letters of ISO 4217, as in EUR"),
    ENROLMENT: ("is not a sign-in code", "use the code of the sign-in link as it is"),
}


class Incoming(Struct, frozen=True, forbid_unknown_fields=True):
    """What a client sends; a field that is not known is refused."""


class Outgoing(Struct, frozen=True):
    """What the service answers."""
