"""What the engine answers: judged readings, matches, causes, tests, the next step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from baylore_kb.values.case import Case
from baylore_kb.values.given import Measure, Reading, SourceKind, Vehicle

Do = Literal["test", "replace", "ask", "refer"]
Origin = Literal["typed", "vin", "words"]
ReadKind = Literal["slip", "joined", "parted", "misheard", "translated", "short", "sense", "own", "car"]
ConflictKind = Literal["outcome", "reading", "part", "two faults"]


@dataclass(frozen=True, slots=True)
class Band:
    """An expected range; None is open on that side."""

    low: float | None
    high: float | None
    unit: str


@dataclass(frozen=True, slots=True)
class Likened:
    """A reading made comparable, freed of its conditions: `value` of `what`.

    Within `instrument` two such values are the same; `scale` is half the width that parts good from bad.
    """

    what: str
    value: float
    instrument: float
    scale: float


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading with what was to be expected, the verdict, the reason and the source.

    `verdict` is a word of the quantity's list (or "low", "ok", "high"), "implausible"
    beyond its hard limits, "unknown" when a needed condition is missing (named in `needs`)
    and the verdict hangs on it; `expected` is then the widest range it allows.
    `meant` are likelier readings of a value that looks slipped, to be asked about.
    `likened` is what to compare with other cars, None where that would mislead.
    `of` are the quantities this was worked out from; empty for what was measured.
    """

    reading: Reading
    expected: Band | None
    verdict: str
    why: str
    source: str
    good: bool | None = None
    needs: tuple[str, ...] = ()
    meant: tuple[Measure, ...] = ()
    likened: Likened | None = None
    of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadAs:
    """What was typed and what it was read as.

    A "slip" of letters, two words "joined", one word "parted", a "misheard" phrase, one "translated" from
    another language and "short" hand stand in the text's place from the character `at` on. A "sense" is an
    abbreviation of several meanings and "own" a word of the shop's, both with what was read beside them;
    "car" is a name of the vehicle: of these `at` is None, and no word of the text changed. Any can be taken
    back by `Complaint.as_typed`.
    """

    typed: str
    read: str
    kind: ReadKind = "slip"
    at: int | None = None


@dataclass(frozen=True, slots=True)
class KnownCar:
    """The car an answer is for: as the shop writes it, filled from its VIN and from the words.

    `origins` says for each known one of year, make, model and engine where it comes from; `read_as` what was
    read as what; `engines` are those of the shop's own cars of this kind, where the engine is not known.
    """

    vehicle: Vehicle = Vehicle()
    origins: Mapping[str, Origin] = field(default_factory=dict)
    read_as: tuple[ReadAs, ...] = ()
    engines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Why:
    """What a past case shares with the complaint, each in words a member can read."""

    words: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()
    vehicle: str = ""
    readings: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()


class Match(NamedTuple):
    """A past case and the chance in [0, 1] that it has the same cause.

    `before_tests` is that chance with test outcomes left out, for who weighs them by themselves; `why` is
    empty until somebody asks for it. A tuple, since a question makes hundreds.
    """

    case: Case
    chance: float
    why: Why = Why()
    before_tests: float | None = None


class Moved(NamedTuple):
    """A piece of evidence that moved a cause: `factor` on its odds against all others, above 1 is up."""

    by: str
    factor: float


class CauseChance(NamedTuple):
    """A cause with its probability in [0, 1] and how many of the shop's cases speak for it.

    `from_words` says whose experience speaks. `moved`: what moved it, strongest first. `from_cases`: ids of
    the cases that speak for it, most telling first.
    """

    cause: str
    title: str
    probability: float
    cases: int
    system: str | None = None
    from_words: str = ""
    moved: tuple[Moved, ...] = ()
    from_cases: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Dropped:
    """A leading cause that fell: its chance before and after the results, and the result that did it."""

    cause: str
    title: str
    before: float
    after: float
    by: str


@dataclass(frozen=True, slots=True)
class Conflict:
    """Evidence that does not fit together, in words, with what to do about it.

    `steps` are the ids of the tests, quantities or components it rests on.
    """

    kind: ConflictKind
    text: str
    remedy: str
    steps: tuple[str, ...] = ()


class Then(NamedTuple):
    """A cause and its probability in [0, 1] after an outcome."""

    cause: str
    title: str
    probability: float


class OutcomeChance(NamedTuple):
    """An outcome of a proposed test: its chance now, and the first causes if it is seen."""

    outcome: str
    means: str
    probability: float
    then_cause: str | None = None
    names_part: bool = False
    then: tuple[Then, ...] = ()


@dataclass(frozen=True, slots=True)
class NextTest:
    """A proposed test; `minutes` includes set-up still to pay, `saves` are expected minutes saved.

    `note` says why a test that is not `allowed` cannot be done now, by whom or with what. `why` is one line:
    what it tells apart, its minutes and what it saves.
    """

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
    note: str = ""
    why: str = ""


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
class RuledOut:
    """A test that found nothing on this model before: how often, its middle minutes, what it cleared."""

    test: str
    title: str
    means: str
    times: int
    minutes: float | None
    causes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PriceSpan:
    """What such jobs came to: least, middle and most over some past cases, at today's rate."""

    cases: int
    low: float
    middle: float
    high: float
    currency: str


@dataclass(frozen=True, slots=True)
class CallAnswer:
    """An answer to a question on the phone: a listed symptom, a condition it shows in, or neither."""

    title: str
    symptom: str | None = None
    condition: str | None = None


@dataclass(frozen=True, slots=True)
class CallQuestion:
    """A question that splits the causes before the car is seen; `why` in one line."""

    question: str
    why: str
    answers: tuple[CallAnswer, ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """The answer. Probabilities of `causes` and `unlisted` sum to 1.

    `cases` come as they are worth reading, of each likely cause one before its others, so that their chances
    need not fall. `symptoms` are listed symptoms heard in the words, best first, `heard` their chances.
    `dropped` are leading causes that results pushed down. `conflicts` are evidence that does not fit
    together. `ruled_out` was found good on this model before. `price` is what such jobs came to, None
    without cases. `questions` are for the phone. `car` is the vehicle it was all asked of.
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
    dropped: tuple[Dropped, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    ruled_out: tuple[RuledOut, ...] = ()
    price: PriceSpan | None = None
    questions: tuple[CallQuestion, ...] = ()
    car: KnownCar = KnownCar()
    heard: Mapping[str, float] = field(default_factory=dict)
