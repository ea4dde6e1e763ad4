"""A case as the shop keeps it, with its steps and photos."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from baylore_kb.values import (
    Case,
    CaseState,
    Complaint,
    Correction,
    Cost,
    Followed,
    Labour,
    Objected,
    PartTried,
    Reading,
    RepairTried,
    Skipped,
    TestDone,
    Vehicle,
)
from baylore_service.store.drafts import own_words
from baylore_service.store.records.taken import Taken

Unresolved = Literal["no fault found", "declined", "referred"]


@dataclass(frozen=True, slots=True)
class Stamp:
    """Which step this is, when it was kept and by whom (a member's name, None unknown)."""

    id: str
    at: datetime
    by: str | None


@dataclass(frozen=True, slots=True)
class TestStep:
    """A test of a case."""

    stamp: Stamp
    test: TestDone


@dataclass(frozen=True, slots=True)
class ReadingStep:
    """A reading of a case."""

    stamp: Stamp
    reading: Reading


@dataclass(frozen=True, slots=True)
class PartStep:
    """A part tried in a case."""

    stamp: Stamp
    part: PartTried


@dataclass(frozen=True, slots=True)
class RepairStep:
    """A repair without a new part that was tried in a case."""

    stamp: Stamp
    repair: RepairTried


@dataclass(frozen=True, slots=True)
class SkipStep:
    """A proposed test of a case that was not done."""

    stamp: Stamp
    skipped: Skipped


@dataclass(frozen=True, slots=True)
class ObjectionStep:
    """A proposed cause of a case that a member holds to be wrong."""

    stamp: Stamp
    objection: Objected


Step = TestStep | ReadingStep | PartStep | RepairStep | SkipStep | ObjectionStep


@dataclass(frozen=True, slots=True)
class Photo:
    """What is known of a photo; its bytes (`bytes` of them) lie apart."""

    id: str
    type: str
    bytes: int
    note: str
    step: str | None
    at: datetime
    by: str | None


@dataclass(frozen=True, slots=True)
class PhotoBlob:
    """A photo of a case with its bytes, as it is moved in and out."""

    case_id: str
    photo: Photo
    data: bytes


@dataclass(frozen=True, slots=True)
class FollowedUp:
    """What was heard when the car was asked after, when and by whom."""

    outcome: Followed
    at: datetime
    by: str | None


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A case as the shop keeps it; `revision` is the number of its last change."""

    id: str
    revision: int
    state: CaseState
    title: str
    opened: datetime
    closed: datetime | None
    updated: datetime
    complaint_text: str
    vehicle: Vehicle = Vehicle()
    symptoms: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    comes_and_goes: bool = False
    shows_when: tuple[str, ...] = ()
    as_typed: tuple[str, ...] = ()
    readings: tuple[ReadingStep, ...] = ()
    tests: tuple[TestStep, ...] = ()
    parts: tuple[PartStep, ...] = ()
    repairs: tuple[RepairStep, ...] = ()
    skipped: tuple[SkipStep, ...] = ()
    objections: tuple[ObjectionStep, ...] = ()
    photos: tuple[Photo, ...] = ()
    cause: str | None = None
    cause_title: str = ""
    cause_system: str | None = None
    correction: Correction | None = None
    confirmed_by: str | None = None
    verification: str = ""
    verified: bool = False
    unresolved_reason: Unresolved | None = None
    note: str = ""
    labour: Labour = Labour()
    cost: Cost = Cost()
    comeback_of: str | None = None
    returned_as: tuple[str, ...] = ()
    by: str | None = None
    followed: FollowedUp | None = None
    # Written twice: the case this record was joined into and what that one took of it, the records joined
    # into this one, and those it was said to be apart from.
    joined_into: str | None = None
    taken: Taken | None = None
    joined: tuple[str, ...] = ()
    apart_from: tuple[str, ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        """All tests, readings, parts, repairs, skipped tests and objections."""
        done: tuple[Step, ...] = (*self.tests, *self.readings, *self.parts, *self.repairs)
        return (*done, *self.skipped, *self.objections)

    def as_complaint(self, *, skill: int = 4) -> Complaint:
        """The complaint with all that was measured, tried and said so far."""
        return Complaint(
            text=self.complaint_text,
            vehicle=self.vehicle,
            codes=self.codes,
            symptoms=self.symptoms,
            readings=tuple(step.reading for step in self.readings),
            tests=tuple(step.test for step in self.tests),
            parts=tuple(step.part for step in self.parts),
            repairs=tuple(step.repair for step in self.repairs),
            skipped=tuple(step.skipped for step in self.skipped),
            objections=tuple(step.objection for step in self.objections),
            comes_and_goes=self.comes_and_goes,
            shows_when=self.shows_when,
            as_typed=self.as_typed,
            skill=skill,
        )

    def as_case(self) -> Case:
        """The case as the engine takes it."""
        return Case(
            id=self.id,
            complaint=self.as_complaint(),
            state=self.state,
            title=self.title,
            cause=self.cause,
            cause_title=self.cause_title,
            cause_system=self.cause_system,
            correction=self.correction,
            confirmed_by=self.confirmed_by,
            verification=self.verification,
            verified=self.verified,
            unresolved_reason=self.unresolved_reason,
            note=own_words(self.note),
            labour=self.labour,
            cost=self.cost,
            opened=self.opened,
            closed=self.closed,
            comeback_of=self.comeback_of,
            returned_as=self.returned_as,
            followed=self.followed.outcome if self.followed else None,
        )
