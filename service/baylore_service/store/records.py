"""The plain values that go in and out of the store and the desk."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Generic, Literal, TypeVar

from baylore_kb.values import (
    Case,
    CaseState,
    Complaint,
    Correction,
    Cost,
    Labour,
    PartTried,
    Reading,
    TestDone,
    Vehicle,
)
from baylore_service.store.drafts import own_words

Role = Literal["technician", "manager"]
UnitSystem = Literal["si", "us"]
Unresolved = Literal["no fault found", "declined", "referred"]
EntityKind = Literal["case", "shop", "member"]
Op = Literal["put", "delete"]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Shop:
    """The tenant: name, currency (ISO 4217), unit habit, labour rate per hour, time zone (IANA)."""

    id: str
    name: str
    currency: str
    unit_system: UnitSystem
    rate_per_hour: float
    time_zone: str


@dataclass(frozen=True, slots=True)
class Member:
    """A person of the shop; `skill` 1 to 4 is the hardest test they may do."""

    id: str
    name: str
    role: Role
    skill: int
    active: bool


@dataclass(frozen=True, slots=True)
class Device:
    """A phone or tablet with a token of its own."""

    id: str
    name: str
    member_id: str
    member_name: str
    last_seen: datetime | None
    revoked: bool


@dataclass(frozen=True, slots=True)
class Actor:
    """Who acts, for which shop, from which device."""

    shop: Shop
    member: Member
    device: Device


@dataclass(frozen=True, slots=True)
class Enrolment:
    """A one-time code that signs a device in until `expires`."""

    code: str
    expires: datetime


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


Step = TestStep | ReadingStep | PartStep


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
    readings: tuple[ReadingStep, ...] = ()
    tests: tuple[TestStep, ...] = ()
    parts: tuple[PartStep, ...] = ()
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

    @property
    def steps(self) -> tuple[Step, ...]:
        """All tests, readings and parts."""
        return (*self.tests, *self.readings, *self.parts)

    def as_complaint(self, *, skill: int = 4) -> Complaint:
        """The complaint with all that was measured and tried so far."""
        return Complaint(
            text=self.complaint_text,
            vehicle=self.vehicle,
            codes=self.codes,
            symptoms=self.symptoms,
            readings=tuple(step.reading for step in self.readings),
            tests=tuple(step.test for step in self.tests),
            parts=tuple(step.part for step in self.parts),
            comes_and_goes=self.comes_and_goes,
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
        )


@dataclass(frozen=True, slots=True)
class New(Generic[T]):
    """A step to be kept; without an id it gets one."""

    value: T
    id: str | None = None


@dataclass(frozen=True, slots=True)
class CaseDraft:
    """A case to open; without an id it gets one, without `opened` it opens now."""

    complaint_text: str
    id: str | None = None
    vehicle: Vehicle = Vehicle()
    symptoms: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    comes_and_goes: bool = False
    readings: tuple[New[Reading], ...] = ()
    tests: tuple[New[TestDone], ...] = ()
    parts: tuple[New[PartTried], ...] = ()
    note: str = ""
    opened: datetime | None = None


@dataclass(frozen=True, slots=True)
class OwnCause:
    """A cause that is not listed, in the shop's own words."""

    title: str
    system: str | None = None
    component: str | None = None


@dataclass(frozen=True, slots=True)
class Closing:
    """How a case ended: `cause` or `own_cause` with its correction, or the reason it stays unresolved.

    `verified` None is worked out: an after-reading or a verification text makes it true.
    `labour` with no diagnosis minutes takes the sum of the tests' minutes, with no rate the shop's.
    """

    cause: str | None = None
    own_cause: OwnCause | None = None
    unresolved: Unresolved | None = None
    correction: Correction | None = None
    confirmed_by: str | None = None
    verification: str = ""
    verified: bool | None = None
    readings: tuple[New[Reading], ...] = ()
    labour: Labour | None = None
    other_cost: float = 0.0
    note: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Reopening:
    """What the car came back with; `vehicle` is a whole one or the fields to change."""

    complaint_text: str | None = None
    vehicle: Vehicle | Mapping[str, object] | None = None
    note: str = ""
    id: str | None = None


@dataclass(frozen=True, slots=True)
class CaseFilter:
    """Which cases to list; None or empty does not filter. `since`/`until` bound `opened`."""

    state: CaseState | None = None
    system: str | None = None
    make: str | None = None
    model: str | None = None
    cause: str | None = None
    text: str | None = None
    since: datetime | None = None
    until: datetime | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """Cases newest first, and the cursor of the next page, None on the last."""

    items: tuple[CaseFile, ...]
    next_cursor: str | None


@dataclass(frozen=True, slots=True)
class Change:
    """A line of the change log; `case` is there where this is the case's latest change."""

    seq: int
    kind: EntityKind
    id: str
    op: Op
    case: CaseFile | None = None


@dataclass(frozen=True, slots=True)
class Receipt:
    """What to keep of a request: its key, the digest of what was asked, how to write the answer."""

    key: str
    digest: str
    render: Callable[[object], bytes]


@dataclass(frozen=True, slots=True)
class Kept:
    """The kept answer of a request; `replayed` when it was given before."""

    body: bytes
    replayed: bool
