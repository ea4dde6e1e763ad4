"""What is said and done to a car: measures, readings, tests, parts, and the complaint that holds them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal

When = Literal["before", "after"]
SourceKind = Literal["maker", "aftermarket", "rebuilt", "used", "own stock"]
PartResult = Literal["cured", "partly", "no change", "failed later"]
RepairResult = Literal["cured", "partly", "no change"]
SkipReason = Literal["no tool", "no right", "no access", "not now", "other"]
Objection = Literal["already renewed", "proved good", "not on this car", "does not fit"]


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with the unit it was given in."""

    value: float
    unit: str


ConditionValue = float | str | bool | Measure


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What is known of the car; empty text and None mean not known.

    `from_vin` names the fields that nobody typed: they were read from the VIN.
    """

    year: int | None = None
    make: str = ""
    model: str = ""
    engine: str = ""
    transmission: str = ""
    odometer: Measure | None = None
    vin: str | None = None
    traits: frozenset[str] = frozenset()
    from_vin: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured quantity at a test point, before or after the correction."""

    quantity: str
    value: float
    unit: str
    point: str = ""
    when: When = "before"
    conditions: Mapping[str, ConditionValue] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TestDone:
    """A test and the outcome it showed.

    `part` is the cause picked where the outcome shows the very part;
    `fault_present` is False when the fault was away while testing.
    """

    __test__: ClassVar[bool] = False  # its name would have a test runner collect it

    test: str
    outcome: str
    minutes: float | None = None
    note: str = ""
    part: str | None = None
    fault_present: bool = True


@dataclass(frozen=True, slots=True)
class PartTried:
    """A part fitted on the way and what it did; price in the shop's currency, None not known."""

    component: str
    source: SourceKind
    result: PartResult | None = None
    price: float | None = None
    note: str = ""
    charged: bool = True


@dataclass(frozen=True, slots=True)
class RepairTried:
    """A repair without a new part (cleaned, adjusted, taught, sealed) for a cause, and what it did."""

    cause: str
    result: RepairResult
    minutes: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Skipped:
    """A proposed test that is not done now, and why."""

    test: str
    because: SkipReason = "other"
    note: str = ""


@dataclass(frozen=True, slots=True)
class Objected:
    """A proposed cause the member holds to be wrong, and why."""

    cause: str
    because: Objection
    note: str = ""


@dataclass(frozen=True, slots=True)
class Correction:
    """What was done: action, component and the words for it."""

    action: str = ""
    component: str | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Labour:
    """Minutes of the job and the shop's rate per hour."""

    diagnosis_min: float = 0.0
    repair_min: float = 0.0
    not_billed_min: float = 0.0
    rate_per_hour: float | None = None


@dataclass(frozen=True, slots=True)
class Cost:
    """Money of the job in one currency (ISO 4217)."""

    parts: float = 0.0
    labour: float = 0.0
    other: float = 0.0
    currency: str = ""

    @property
    def total(self) -> float:
        """Charged parts, labour and other together."""
        return self.parts + self.labour + self.other


@dataclass(frozen=True, slots=True)
class Complaint:
    """A complaint on one vehicle with all that was measured and tried so far.

    `skill` is the highest test skill (1 to 4) the asking member may do, `rights` the certificates they hold.
    `comes_and_goes` marks a fault that is not always there; `shows_when` are the conditions it shows in,
    by id of `conditions.SHOWS_WHEN`.
    `minutes_spent` is the diagnosis time so far where it is not the sum of the tests.
    """

    text: str
    vehicle: Vehicle = Vehicle()
    codes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    tests: tuple[TestDone, ...] = ()
    parts: tuple[PartTried, ...] = ()
    repairs: tuple[RepairTried, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    objections: tuple[Objected, ...] = ()
    comes_and_goes: bool = False
    shows_when: tuple[str, ...] = ()
    as_typed: tuple[str, ...] = ()
    skill: int = 4
    rights: frozenset[str] = frozenset()
    minutes_spent: float | None = None
