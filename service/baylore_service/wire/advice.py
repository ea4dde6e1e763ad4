"""Advice and judged readings as they are answered."""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from baylore_kb.values import ReadKind
from baylore_service.wire import fields as f
from baylore_service.wire import reasons as r
from baylore_service.wire import values as v
from baylore_service.wire.reasons import Chance


class Expected(f.Outgoing, frozen=True):
    """An expected range; null is open on that side."""

    low: float | None
    high: float | None
    unit: str


class Meant(f.Outgoing, frozen=True):
    """A likelier reading of a value that looks slipped."""

    value: float
    unit: str


class Judged(f.Outgoing, frozen=True):
    """A reading with what was to be expected, the verdict, the reason and the source.

    `of` are the quantities this was worked out from; empty for what was measured.
    """

    quantity: str
    value: float
    unit: str
    point: str
    expected: Expected | None
    verdict: str
    good: bool | None
    why: str
    source: str
    needs: tuple[str, ...]
    meant: tuple[Meant, ...]
    of: tuple[str, ...]


class JudgedList(f.Outgoing, frozen=True):
    """Judged readings in the order they were sent."""

    readings: tuple[Judged, ...]


class Why(f.Outgoing, frozen=True):
    """What a past case shares with the complaint."""

    words: tuple[str, ...]
    codes: tuple[str, ...]
    symptoms: tuple[str, ...]
    vehicle: str
    readings: tuple[str, ...]
    tests: tuple[str, ...]


class CaseRow(f.Outgoing, frozen=True):
    """A past case and the chance that it has the same cause."""

    case: str
    title: str
    chance: Chance
    cause: str | None
    correction: str
    why: Why
    vehicle: str
    state: f.State


class CauseRow(f.Outgoing, frozen=True, rename={"speaks": "from"}):
    """A cause with its probability; `from` says whose experience speaks, `moved` what moved it."""

    cause: str
    title: str
    probability: Chance
    cases: int
    system: str | None
    speaks: str
    moved: tuple[r.Moved, ...]
    from_cases: tuple[str, ...]


class OutcomeRow(f.Outgoing, frozen=True):
    """What a test may show and what it would point at: `then` are the first causes after it."""

    outcome: str
    means: str
    probability: Chance
    then_cause: str | None
    names_part: bool
    then: tuple[r.Then, ...]


class TestRow(f.Outgoing, frozen=True):
    """A proposed test; minutes include the set-up still to pay, `note` says why it cannot be done now."""

    test: str
    title: str
    minutes: float
    saves: float
    setup: str
    tells_apart: tuple[str, ...]
    cautions: tuple[str, ...]
    skill: int
    allowed: bool
    note: str
    why: str
    outcomes: tuple[OutcomeRow, ...]


class AskOption(f.Outgoing, frozen=True):
    """An answer a member may tap."""

    symptom: str
    title: str


class Next(f.Outgoing, frozen=True):
    """What to do next and why; only the fields that `do` needs are there."""

    do: str
    why: str
    test: str | UnsetType = UNSET
    cause: str | UnsetType = UNSET
    title: str | UnsetType = UNSET
    component: str | UnsetType = UNSET
    part_source: f.Source | UnsetType = UNSET
    expected_cost: float | UnsetType = UNSET
    currency: str | UnsetType = UNSET
    question: str | UnsetType = UNSET
    options: tuple[AskOption, ...] | UnsetType = UNSET


class ReadAs(f.Outgoing, frozen=True):
    """What was typed and what it was read as; any can be taken back with `as_typed`.

    Kinds with a place `at` stand for so many characters of the complaint from there on; "sense", "own" and
    "car" changed no word of it.
    """

    typed: str
    read: str
    kind: ReadKind
    at: int | None


class Car(f.Outgoing, frozen=True):
    """The car the answer is for: in the shop's spelling, filled from its VIN and from the words.

    `origins` says where year, make, model and engine come from; `engines` are those of the shop's own cars
    of this kind, where the engine is not known.
    """

    vehicle: v.Vehicle
    origins: dict[str, f.Origin]
    engines: tuple[str, ...]


class HeardSymptom(f.Outgoing, frozen=True):
    """A listed symptom, best first; the chance is null where it was heard in mended words only."""

    symptom: str
    title: str
    chance: float | None


class Advice(f.Outgoing, frozen=True):
    """The answer; probabilities of `causes` and `unlisted` sum to 1.

    `cases` come as they are worth reading: of each likely cause one before its others, so that their chances
    need not fall.
    """

    cases: tuple[CaseRow, ...]
    causes: tuple[CauseRow, ...]
    unlisted: Chance
    tests: tuple[TestRow, ...]
    next: Next
    readings: tuple[Judged, ...]
    read_as: tuple[ReadAs, ...]
    symptoms: tuple[HeardSymptom, ...]
    cautions: tuple[str, ...]
    dropped: tuple[r.Dropped, ...]
    conflicts: tuple[r.Conflict, ...]
    ruled_out: tuple[r.RuledOut, ...]
    price: r.Price | None
    questions: tuple[r.CallQuestion, ...]
    car: Car
    revision: int
