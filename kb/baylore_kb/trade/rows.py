"""The shape of one entry in each data file, so that a slip in a file is named by field."""

from __future__ import annotations

import msgspec

Number = float | str


class Row(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """An entry of a list; unknown and missing fields are faults."""


class ComponentRow(Row):
    """A component as written under its system."""

    id: str
    title: str
    also: tuple[str, ...] = ()


class SystemRow(Row):
    """A system as written in systems.yaml."""

    id: str
    title: str
    description: str
    cautions: tuple[str, ...]
    components: tuple[ComponentRow, ...]


class SymptomRow(Row):
    """A symptom as written in symptoms.yaml."""

    id: str
    title: str
    systems: tuple[str, ...]
    said_by_customer: tuple[str, ...]
    written_by_tech: tuple[str, ...]
    misheard_or_typo: tuple[str, ...]
    conditions: tuple[str, ...]


class PhraseRow(Row):
    """What another language says, several ways, and the plain English words it is read as."""

    read: str
    said: tuple[str, ...]


class SenseRow(Row):
    """One meaning of an abbreviation."""

    plain: str
    refers_to: str | None = None
    decide_by: str = ""


class AbbreviationRow(Row):
    """An abbreviation as written in abbreviations.yaml."""

    forms: tuple[str, ...]
    kind: str
    senses: tuple[SenseRow, ...]
    also_elsewhere: tuple[str, ...] = ()


class ConditionRow(Row):
    """A condition as written in quantities.yaml."""

    id: str
    title: str
    unit: str | None = None
    also: tuple[str, ...] = ()
    default: Number | None = None
    usual: tuple[Number, ...] = ()


class LimitsRow(Row):
    """A low and a high number."""

    low: float
    high: float


class ExpectedRow(Row):
    """How an expected range is written."""

    kind: str
    low: Number | None = None
    high: Number | None = None
    uses: tuple[str, ...] = ()
    by: str | None = None
    choose_by: str | None = None
    tolerance: float = 0.0
    points: dict[str, dict[float, float]] = {}
    note: str = ""


class QuantityRow(Row):
    """A quantity as written in quantities.yaml."""

    id: str
    title: str
    unit: str
    accepted_units: tuple[str, ...]
    test_point: str
    conditions: tuple[str, ...]
    hard_limits: LimitsRow
    expected: ExpectedRow
    verdicts: tuple[str, ...]
    ladder: tuple[str, ...]
    edges: tuple[Number, ...]
    good: tuple[str, ...]
    source: str
    also: tuple[str, ...] = ()


class ReadingRow(Row):
    """A reading that decides an outcome."""

    quantity: str
    unit: str
    min: Number | None = None
    max: Number | None = None
    above: Number | None = None
    below: Number | None = None


class OutcomeRow(Row):
    """An outcome as written under its test."""

    id: str
    means: str
    reading: ReadingRow | None = None
    names_part: bool = False


class ClassRow(Row, rename={"name": "class"}):
    """A class of causes with its chances of each outcome."""

    name: str
    causes: tuple[str, ...]
    p: dict[str, float]


class StateRow(Row):
    """The state a car must be in."""

    key: str
    raised: bool
    battery: str
    wheels: str


class MinutesRow(Row):
    """Minutes to set up and to do."""

    setup: float
    do: float


class TestRow(Row):
    """A test as written in tests.yaml."""

    __test__ = False

    id: str
    title: str
    system: str
    offer_for: tuple[str, ...]
    decides: tuple[str, ...]
    state: StateRow
    tools: tuple[str, ...]
    minutes: MinutesRow
    skill: int
    steps: tuple[str, ...]
    outcomes: tuple[OutcomeRow, ...]
    likelihood: tuple[ClassRow, ...]
    cautions: tuple[str, ...]
    for_symptoms: tuple[str, ...] = ()
    only_if: tuple[str, ...] = ()
    quantity: str | None = None
    also_read: tuple[str, ...] = ()
    also: tuple[str, ...] = ()


class CauseRow(Row):
    """A cause as written in causes.yaml."""

    id: str
    title: str
    component: str
    mode: str
    system: str
    weight: float
    confirm_test: str
    fix: str
    labour_hours: LimitsRow
    symptoms: tuple[str, ...]
    only_if: tuple[str, ...] = ()


class CautionRow(Row):
    """A caution as written in cautions.yaml."""

    id: str
    title: str
    text: str
    always: str


class PricesRow(Row):
    """Rough part prices as written in prices.yaml."""

    parts: dict[str, float]
    by_mode: dict[str, float]
    by_cause: dict[str, float]
