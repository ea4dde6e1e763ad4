"""The trade knowledge as frozen records; one class per list, as loaded from the data files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Component:
    """A part of a system, with the names technicians write."""

    id: str
    title: str
    system: str
    also: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class System:
    """A vehicle system with its components and the cautions that apply."""

    id: str
    title: str
    description: str
    cautions: tuple[str, ...]
    components: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Symptom:
    """A listed way of misbehaving; `systems` first suspect first."""

    id: str
    title: str
    systems: tuple[str, ...]
    said_by_customer: tuple[str, ...]
    written_by_tech: tuple[str, ...]
    misheard_or_typo: tuple[str, ...]
    conditions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sense:
    """One meaning of an abbreviation; `decide_by` words settle an ambiguous form."""

    plain: str
    refers_to: str | None
    decide_by: str


# The kind of abbreviations that are a shop's own words: they stand before any other with the same form.
OWN_WORD = "own"


@dataclass(frozen=True, slots=True)
class Abbreviation:
    """Written forms and the plain terms they stand for."""

    forms: tuple[str, ...]
    kind: str
    senses: tuple[Sense, ...]


@dataclass(frozen=True, slots=True)
class Condition:
    """A circumstance written beside a reading; `unit` None for a word or yes/no.

    `also` are plainer names that mean it wherever a quantity lists this condition;
    `default`, in `unit`, is what may honestly be assumed when it is not said.
    `usual` are its ordinary limits in `unit`, low and high, or the words it takes; empty not known.
    """

    id: str
    title: str
    unit: str | None
    also: tuple[str, ...] = ()
    default: float | str | None = None
    usual: tuple[float | str, ...] = ()


@dataclass(frozen=True, slots=True)
class Expected:
    """How the expected range is found: constant, formula, table or maker.

    For constant and maker `low`/`high` are numbers in the quantity's unit; for formula
    they are arithmetic over `uses`; for table `points[choose_by value][by value]` ± tolerance.
    """

    kind: str
    low: float | str | None
    high: float | str | None
    uses: tuple[str, ...]
    by: str | None
    choose_by: str | None
    tolerance: float
    points: Mapping[str, tuple[tuple[float, float], ...]]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A reading worth writing down; `hard_low`/`hard_high` question a value, never drop it.

    `ladder` are the verdicts from the lowest reading to the highest, parted by `edges`
    (numbers, or arithmetic over the conditions and the expected `low` and `high`);
    `good` are those that mean nothing is wrong.
    """

    id: str
    title: str
    unit: str
    accepted_units: tuple[str, ...]
    test_point: str
    conditions: tuple[str, ...]
    hard_low: float
    hard_high: float
    expected: Expected
    verdicts: tuple[str, ...]
    source: str
    ladder: tuple[str, ...] = ()
    edges: tuple[float | str, ...] = ()
    good: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OutcomeRule:
    """A reading that decides an outcome; bounds are numbers or arithmetic, None is open."""

    quantity: str
    unit: str
    min: float | str | None
    max: float | str | None
    above: float | str | None
    below: float | str | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a test can show; `names_part` when it shows the very part."""

    id: str
    means: str
    rule: OutcomeRule | None
    names_part: bool


@dataclass(frozen=True, slots=True)
class LikelihoodRow:
    """P(outcome | class of causes); the class without causes is anything else."""

    name: str
    causes: tuple[str, ...]
    p: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class VehicleState:
    """The state the car must be in: set-up is shared by tests of the same state and tools."""

    key: str
    raised: bool
    battery: str
    wheels: str


@dataclass(frozen=True, slots=True)
class Test:
    """A diagnostic step with minutes, tools, state, cautions, outcomes and chances."""

    id: str
    title: str
    system: str
    offer_for: tuple[str, ...]
    for_symptoms: tuple[str, ...]
    only_if: tuple[str, ...]
    decides: tuple[str, ...]
    state: VehicleState
    tools: tuple[str, ...]
    setup_min: float
    do_min: float
    skill: int
    quantity: str | None
    also_read: tuple[str, ...]
    steps: tuple[str, ...]
    outcomes: tuple[Outcome, ...]
    likelihood: tuple[LikelihoodRow, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cause:
    """Component and failure mode with weight, confirming test, correction and symptoms in order.

    `part_price` is a rough guess in USD of what one try of the correction costs in parts
    and consumables, no labour; from memory, so a shop's own prices come first.
    """

    id: str
    title: str
    component: str
    mode: str
    system: str
    weight: float
    confirm_test: str
    fix: str
    labour_low_h: float
    labour_high_h: float
    symptoms: tuple[str, ...]
    only_if: tuple[str, ...]
    part_price: float | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """A short caution for trained people; `always` defers to the maker's procedure and local codes."""

    id: str
    title: str
    text: str
    always: str


@dataclass(frozen=True, slots=True)
class Trade:
    """All lists by id, in file order.

    The `also_` tables lead from another accepted name to the id; a name that several
    conditions share leads to the first of them. `version` is a digest of the files. `phrases` are complaints
    as another language says them, with the plain words each is read as.
    """

    systems: Mapping[str, System]
    components: Mapping[str, Component]
    traits: Mapping[str, str]
    modes: Mapping[str, str]
    symptoms: Mapping[str, Symptom]
    abbreviations: tuple[Abbreviation, ...]
    conditions: Mapping[str, Condition]
    quantities: Mapping[str, Quantity]
    tests: Mapping[str, Test]
    causes: Mapping[str, Cause]
    cautions: Mapping[str, Caution]
    also_quantities: Mapping[str, str]
    also_tests: Mapping[str, str]
    also_conditions: Mapping[str, str]
    version: str = ""
    phrases: Mapping[str, str] = field(default_factory=dict)
