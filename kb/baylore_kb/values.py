"""The plain values the knowledge engine takes and gives; frozen, no behaviour beyond themselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import ClassVar, Literal

CaseState = Literal["open", "closed", "unresolved"]
When = Literal["before", "after"]
SourceKind = Literal["maker", "aftermarket", "rebuilt", "used", "own stock"]
PartResult = Literal["cured", "partly", "no change", "failed later"]
Do = Literal["test", "replace", "ask", "refer"]


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with the unit it was given in."""

    value: float
    unit: str


ConditionValue = float | str | bool | Measure


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What is known of the car; empty text and None mean not known."""

    year: int | None = None
    make: str = ""
    model: str = ""
    engine: str = ""
    transmission: str = ""
    odometer: Measure | None = None
    vin: str | None = None
    traits: frozenset[str] = frozenset()


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

    `skill` is the highest test skill (1 to 4) the asking member may do.
    `comes_and_goes` marks a fault that is not always there.
    `minutes_spent` is the diagnosis time so far where it is not the sum of the tests.
    """

    text: str
    vehicle: Vehicle = Vehicle()
    codes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    tests: tuple[TestDone, ...] = ()
    parts: tuple[PartTried, ...] = ()
    comes_and_goes: bool = False
    skill: int = 4
    minutes_spent: float | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """One complaint on one vehicle, with its confirmed cause once closed.

    `cause` is a listed cause id, or `own.<words>` with its words in `cause_title`
    (and, where known, `cause_system`) when the shop found something not listed.
    """

    id: str
    complaint: Complaint
    state: CaseState = "open"
    title: str = ""
    cause: str | None = None
    cause_title: str = ""
    cause_system: str | None = None
    correction: Correction | None = None
    confirmed_by: str | None = None
    verification: str = ""
    verified: bool = False
    unresolved_reason: str | None = None
    note: str = ""
    labour: Labour = Labour()
    cost: Cost = Cost()
    opened: datetime | None = None
    closed: datetime | None = None
    comeback_of: str | None = None
    returned_as: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Terms:
    """The shop's money and habits that planning needs; rate per hour > 0."""

    rate_per_hour: float = 95.0
    currency: str = "USD"
    comeback_cost_min: float = 60.0


@dataclass(frozen=True, slots=True)
class Band:
    """An expected range; None is open on that side."""

    low: float | None
    high: float | None
    unit: str


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading with what was to be expected, the verdict, the reason and the source.

    `verdict` is a word of the quantity's list (or "low", "ok", "high"), "implausible"
    beyond its hard limits, "unknown" when a needed condition is missing (named in `needs`).
    """

    reading: Reading
    expected: Band | None
    verdict: str
    why: str
    source: str
    good: bool | None = None
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadAs:
    """A typed word and the word it was read as."""

    typed: str
    read: str


@dataclass(frozen=True, slots=True)
class Why:
    """What a past case shares with the complaint, each in words a member can read."""

    words: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()
    vehicle: str = ""
    readings: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Match:
    """A past case and the chance in [0, 1] that it has the same cause."""

    case: Case
    chance: float
    why: Why


@dataclass(frozen=True, slots=True)
class CauseChance:
    """A cause with its probability in [0, 1] and how many of the shop's cases speak for it."""

    cause: str
    title: str
    probability: float
    cases: int
    system: str | None = None
    from_words: str = ""


@dataclass(frozen=True, slots=True)
class OutcomeChance:
    """An outcome of a proposed test: its chance now and the first cause if it is seen."""

    outcome: str
    means: str
    probability: float
    then_cause: str | None = None
    names_part: bool = False


@dataclass(frozen=True, slots=True)
class NextTest:
    """A proposed test; `minutes` includes set-up still to pay, `saves` are expected minutes saved."""

    test: str
    title: str
    minutes: float
    saves: float
    setup: str
    tells_apart: tuple[str, ...]
    cautions: tuple[str, ...]
    outcomes: tuple[OutcomeChance, ...] = ()
    skill: int = 1
    allowed: bool = True


@dataclass(frozen=True, slots=True)
class AskOption:
    """An answer a member may tap; `symptom` is the listed symptom it stands for."""

    symptom: str
    title: str


@dataclass(frozen=True, slots=True)
class Step:
    """What to do next and why; the fields that `do` needs are filled.

    `expected_cost` is money in the shop's currency to a working car by this way.
    """

    do: Do
    why: str
    test: str | None = None
    cause: str | None = None
    component: str | None = None
    part_source: SourceKind | None = None
    expected_cost: float | None = None
    question: str | None = None
    options: tuple[AskOption, ...] = ()


@dataclass(frozen=True, slots=True)
class Advice:
    """The answer. Probabilities of `causes` and `unlisted` sum to 1.

    `symptoms` are listed symptoms heard in the words, best first.
    """

    cases: tuple[Match, ...]
    causes: tuple[CauseChance, ...]
    unlisted: float
    tests: tuple[NextTest, ...]
    next: Step
    readings: tuple[Judged, ...]
    read_as: tuple[ReadAs, ...]
    cautions: tuple[str, ...]
    revision: int
    symptoms: tuple[str, ...] = ()
