"""Cases as they are answered, changed, closed and reopened."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated
from uuid import UUID

from msgspec import UNSET, Meta, UnsetType

from baylore_service.wire import fields as f
from baylore_service.wire import values as v
from baylore_service.wire.complaint import Words


class ReadingStep(f.Outgoing, frozen=True):
    """A reading of a case."""

    id: str
    at: datetime
    by: str | None
    quantity: str
    value: float
    unit: str
    point: str
    when: f.When
    conditions: dict[str, float | bool | str | v.Measure]


class TestStep(f.Outgoing, frozen=True):
    """A test of a case."""

    id: str
    at: datetime
    by: str | None
    test: str
    outcome: str
    minutes: float | None
    note: str
    part: str | None
    fault_present: bool


class PartStep(f.Outgoing, frozen=True):
    """A part tried in a case."""

    id: str
    at: datetime
    by: str | None
    component: str
    source: f.Source
    price: float | None
    result: f.Result | None
    note: str
    charged: bool


class RepairStep(f.Outgoing, frozen=True):
    """A repair without a new part that was tried in a case."""

    id: str
    at: datetime
    by: str | None
    cause: str
    result: f.RepairResult
    minutes: float | None
    note: str


class SkipStep(f.Outgoing, frozen=True):
    """A proposed test of a case that was not done."""

    id: str
    at: datetime
    by: str | None
    test: str
    because: f.SkipReason
    note: str


class ObjectionStep(f.Outgoing, frozen=True):
    """A proposed cause of a case that is held to be wrong."""

    id: str
    at: datetime
    by: str | None
    cause: str
    because: f.Objection
    note: str


class Photo(f.Outgoing, frozen=True):
    """A photo of a case; its bytes have their own address."""

    id: str
    type: str
    bytes: int
    note: str
    step: str | None
    at: datetime
    by: str | None


class FollowedUp(f.Outgoing, frozen=True):
    """What was heard when the car was asked after, when and by whom."""

    outcome: f.Followed
    at: datetime
    by: str | None


class CaseBrief(f.Outgoing, frozen=True):
    """A case without its steps."""

    id: str
    state: f.State
    revision: int
    title: str
    opened: datetime
    closed: datetime | None
    updated: datetime
    complaint: str
    vehicle: v.Vehicle
    symptoms: tuple[str, ...]
    codes: tuple[str, ...]
    comes_and_goes: bool
    shows_when: tuple[str, ...]
    as_typed: tuple[str, ...]
    cause: str | None
    cause_title: str
    cause_system: str | None
    correction: v.Correction | None
    confirmed_by: str | None
    verification: str
    verified: bool
    unresolved_reason: str | None
    note: str
    labour: v.Labour
    cost: v.Cost
    comeback_of: str | None
    returned_as: tuple[str, ...]
    joined_into: str | None
    joined: tuple[str, ...]
    followed: FollowedUp | None
    by: str | None


class Case(CaseBrief, frozen=True):
    """A whole case."""

    readings: tuple[ReadingStep, ...]
    tests: tuple[TestStep, ...]
    parts: tuple[PartStep, ...]
    repairs: tuple[RepairStep, ...]
    skipped: tuple[SkipStep, ...]
    objections: tuple[ObjectionStep, ...]
    photos: tuple[Photo, ...]


class CaseList(f.Outgoing, frozen=True):
    """A page of cases, newest first."""

    cases: tuple[CaseBrief, ...]
    next: str | None


class VehiclePatch(f.Incoming, frozen=True):
    """Changes to a vehicle; null forgets, what is left out stays.

    `from_vin` and `vin_says` are known from the rest and ignored here.
    """

    year: f.Year | None | UnsetType = UNSET
    make: f.Word | None | UnsetType = UNSET
    model: f.Word | None | UnsetType = UNSET
    engine: f.Word | None | UnsetType = UNSET
    transmission: f.Word | None | UnsetType = UNSET
    odometer: v.Measure | None | UnsetType = UNSET
    vin: f.VinText | None | UnsetType = UNSET
    traits: Annotated[tuple[f.ListedId, ...], Meta(max_length=30)] | None | UnsetType = UNSET
    from_vin: Annotated[tuple[f.FromVin, ...], Meta(max_length=2)] | None | UnsetType = UNSET
    vin_says: v.VinSays | None | UnsetType = UNSET


class LabourPatch(f.Incoming, frozen=True):
    """Changes to the minutes and the rate; null sets back."""

    diagnosis_min: f.Minutes | None | UnsetType = UNSET
    repair_min: f.Minutes | None | UnsetType = UNSET
    not_billed_min: f.Minutes | None | UnsetType = UNSET
    rate_per_hour: f.Rate | None | UnsetType = UNSET


class CasePatch(f.Incoming, frozen=True):
    """A JSON merge patch of a case; null empties, what is left out stays."""

    complaint: Words | UnsetType = UNSET
    vehicle: VehiclePatch | None | UnsetType = UNSET
    symptoms: v.Symptoms | None | UnsetType = UNSET
    codes: v.Codes | None | UnsetType = UNSET
    comes_and_goes: bool | None | UnsetType = UNSET
    shows_when: v.ShowsWhen | None | UnsetType = UNSET
    as_typed: v.AsTyped | None | UnsetType = UNSET
    note: f.LongText | None | UnsetType = UNSET
    title: f.Title | None | UnsetType = UNSET
    correction: f.ShortText | v.Correction | None | UnsetType = UNSET
    cause: f.CauseId | None | UnsetType = UNSET
    cause_title: f.Title | None | UnsetType = UNSET
    verification: f.ShortText | None | UnsetType = UNSET
    labour: LabourPatch | None | UnsetType = UNSET


class PartPatch(f.Incoming, frozen=True):
    """What became known of a part later; null sets back to not known."""

    result: f.Result | None | UnsetType = UNSET
    note: f.ShortText | None | UnsetType = UNSET
    charged: bool | UnsetType = UNSET
    price: f.Money | None | UnsetType = UNSET


class TestPatch(f.Incoming, frozen=True):
    """What is corrected of a test; null empties, what is left out stays."""

    outcome: f.ListedId | UnsetType = UNSET
    minutes: f.Minutes | None | UnsetType = UNSET
    note: f.ShortText | None | UnsetType = UNSET
    part: f.CauseId | None | UnsetType = UNSET
    fault_present: bool | UnsetType = UNSET


class ReadingPatch(f.Incoming, frozen=True):
    """What is corrected of a reading; null empties, what is left out stays."""

    value: f.Number | UnsetType = UNSET
    unit: f.Unit | UnsetType = UNSET
    point: f.Title | None | UnsetType = UNSET
    conditions: v.Conditions | None | UnsetType = UNSET


class RepairPatch(f.Incoming, frozen=True):
    """What is corrected of a repair; null empties, what is left out stays."""

    result: f.RepairResult | UnsetType = UNSET
    minutes: f.Minutes | None | UnsetType = UNSET
    note: f.ShortText | None | UnsetType = UNSET


class OwnCause(f.Incoming, frozen=True):
    """A cause that is not listed, in the shop's own words."""

    title: Annotated[str, Meta(min_length=1, max_length=120, pattern=f.LINE)]
    system: f.ListedId | None = None
    component: f.ListedId | None = None


class Closing(f.Incoming, frozen=True):
    """How a case ended: a cause with its correction, or the reason it stays unresolved."""

    cause: f.CauseId | None = None
    own_cause: OwnCause | None = None
    unresolved: f.Reason | None = None
    correction: f.ShortText | v.Correction | None = None
    confirmed_by: f.ListedId | None = None
    verification: f.ShortText = ""
    verified: bool | None = None
    readings: v.Readings = ()
    labour: v.Labour | None = None
    other_cost: f.Money = 0.0
    note: f.LongText = ""
    title: f.Title = ""


class Reopening(f.Incoming, frozen=True):
    """What the car came back with."""

    complaint: Words | None = None
    vehicle: VehiclePatch | None = None
    note: f.LongText = ""
    id: f.Id | None = None


class OtherCase(f.Incoming, frozen=True):
    """Another record, by its id."""

    other: UUID


class AlikeCase(f.Outgoing, frozen=True):
    """Another record of the same visit; `exact` when it says the very same.

    `remains` is the case that the other is to be joined into, `takes` what goes over to it, in words.
    """

    case: str
    state: f.State
    title: str
    complaint: str
    vehicle: v.Vehicle
    opened: datetime
    by: str | None
    cause_title: str
    steps: int
    photos: int
    alike: float
    exact: bool
    why: tuple[str, ...]
    remains: str
    takes: tuple[str, ...]


class AlikeCases(f.Outgoing, frozen=True):
    """Other records of the same visit, the most alike first."""

    alike: tuple[AlikeCase, ...]


class ClosedCase(Case, frozen=True):
    """A case just closed; `alike`, left out where there are none, are other records of the same visit."""

    alike: tuple[AlikeCase, ...] | UnsetType = UNSET
