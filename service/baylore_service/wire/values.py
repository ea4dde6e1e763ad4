"""Measures, vehicles, readings, tests and parts as they travel."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from baylore_service.wire import fields as f


class Measure(f.Incoming, frozen=True):
    """A number with its unit."""

    value: f.Number
    unit: f.Unit


ConditionName = Annotated[str, Meta(min_length=1, max_length=60, pattern=f.LINE)]
ConditionValue = f.Number | bool | f.Word | Measure
Conditions = Annotated[dict[ConditionName, ConditionValue], Meta(max_length=30)]


class VinSays(f.Incoming, frozen=True):
    """What a VIN tells: model year (null where it tells none) and maker; `year_note` says how sure.

    `against` are its disagreements with what was typed, which stays.
    """

    year: int | None = None
    maker: Annotated[str, Meta(max_length=120)] = ""
    year_note: f.Title = ""
    against: Annotated[tuple[f.Title, ...], Meta(max_length=4)] = ()


class Vehicle(f.Incoming, frozen=True):
    """What is known of the car; empty text and null mean not known.

    A year and make that are not given are filled in from the VIN, which never overrides one that is;
    `from_vin` then names them. `vin_says` is worked out anew for every answer and ignored where it is sent.
    """

    year: f.Year | None = None
    make: f.Word = ""
    model: f.Word = ""
    engine: f.Word = ""
    transmission: f.Word = ""
    odometer: Measure | None = None
    vin: f.VinText | None = None
    traits: Annotated[tuple[f.ListedId, ...], Meta(max_length=30)] = ()
    from_vin: Annotated[tuple[f.FromVin, ...], Meta(max_length=2)] = ()
    vin_says: VinSays | None = None


class Reading(f.Incoming, frozen=True):
    """A measured value at a test point."""

    quantity: f.ListedId
    value: f.Number
    unit: f.Unit
    point: f.Title = ""
    when: f.When = "before"
    conditions: Conditions = {}
    id: f.Id | None = None


class Test(f.Incoming, frozen=True):
    """A test that was done and the outcome it showed."""

    test: f.ListedId
    outcome: f.ListedId
    minutes: f.Minutes | None = None
    note: f.ShortText = ""
    part: f.CauseId | None = None
    fault_present: bool = True
    id: f.Id | None = None


class Part(f.Incoming, frozen=True):
    """A part that was fitted and what it did."""

    component: f.ListedId
    source: f.Source
    price: f.Money | None = None
    result: f.Result | None = None
    note: f.ShortText = ""
    charged: bool = True
    id: f.Id | None = None


class Repair(f.Incoming, frozen=True):
    """A repair without a new part for a cause (cleaned, adjusted, taught, sealed) and what it did."""

    cause: f.CauseId
    result: f.RepairResult
    minutes: f.Minutes | None = None
    note: f.ShortText = ""
    id: f.Id | None = None


class Skip(f.Incoming, frozen=True):
    """A proposed test that is not done, and why."""

    test: f.TestId
    because: f.SkipReason = "other"
    note: f.ShortText = ""
    id: f.Id | None = None


class Objection(f.Incoming, frozen=True):
    """A proposed cause that is held to be wrong, and why."""

    cause: f.CauseId
    because: f.Objection
    note: f.ShortText = ""
    id: f.Id | None = None


class Correction(f.Incoming, frozen=True):
    """What was done."""

    action: f.Word = ""
    component: f.ListedId | None = None
    text: f.ShortText = ""


class Code(f.Incoming, frozen=True):
    """A trouble code with the state the module gave it."""

    code: f.CodeText
    state: f.Word = ""


Codes = Annotated[tuple[f.CodeText | Code, ...], Meta(max_length=60)]
Symptoms = Annotated[tuple[f.ListedId, ...], Meta(max_length=40)]
Readings = Annotated[tuple[Reading, ...], Meta(max_length=200)]
Tests = Annotated[tuple[Test, ...], Meta(max_length=200)]
Parts = Annotated[tuple[Part, ...], Meta(max_length=100)]
Repairs = Annotated[tuple[Repair, ...], Meta(max_length=100)]
Skips = Annotated[tuple[Skip, ...], Meta(max_length=200)]
Objections = Annotated[tuple[Objection, ...], Meta(max_length=100)]
AsTyped = Annotated[tuple[f.Title, ...], Meta(max_length=40)]
ShowsWhen = Annotated[tuple[f.ListedId, ...], Meta(max_length=20)]


class Labour(f.Incoming, frozen=True):
    """Minutes of the job and the rate per hour."""

    diagnosis_min: f.Minutes = 0.0
    repair_min: f.Minutes = 0.0
    not_billed_min: f.Minutes = 0.0
    rate_per_hour: f.Rate | None = None


class Cost(f.Outgoing, frozen=True):
    """Money of the job in the shop's currency."""

    parts: float
    labour: float
    other: float
    total: float
    currency: str
