"""What keeps failing and which parts cure, as answered."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from baylore_service.wire import fields as f


class RecurrenceRow(f.Outgoing, frozen=True):
    """A failure that comes back: observed against expected with its interval.

    `odometer_km` is where it failed: lower quartile, middle, upper quartile.
    """

    key: dict[str, str]
    title: str
    observed: int
    expected: float | None
    ratio: float | None
    low: float | None
    high: float | None
    signal: Literal["strong", "signal", "none"]
    first: datetime | None
    last: datetime | None
    median_minutes: float | None
    median_cost: float | None
    comebacks: int
    odometer_km: tuple[float, float, float] | None
    cases: tuple[str, ...]


class Recurrences(f.Outgoing, frozen=True):
    """Recurring failures, strongest first, with what cannot be known."""

    by: tuple[str, ...]
    since: datetime | None
    until: datetime | None
    cases: int
    rows: tuple[RecurrenceRow, ...]
    notes: tuple[str, ...]


class SourceRow(f.Outgoing, frozen=True):
    """Outcomes of one source of a component; success chances in [0, 1].

    `elsewhere` counts parts that could not have cured, for the fault lay elsewhere.
    """

    source: f.Source
    tried: int
    cured: int
    partly: int
    no_change: int
    failed_later: int
    elsewhere: int
    success: float
    low: float
    high: float
    median_price: float | None
    expected_cost: float | None
    life_km: float | None
    per_1000_km: float | None


class PartWay(f.Outgoing, frozen=True):
    """Fit `first`, after `tries` failures `then`; `then` is null where the same is fitted until it works.

    `sure` is the chance that the first is cheaper than the best other source.
    """

    first: f.Source
    tries: int
    then: f.Source | None
    cost: float
    sure: float | None


class ComponentParts(f.Outgoing, frozen=True):
    """A component with its sources and the cheapest way to a working car; none for a safety part."""

    component: str
    title: str
    sources: tuple[SourceRow, ...]
    cheapest_way: f.Source | None
    undecided: bool
    says: str
    way: PartWay | None
    safety: bool


class PartsReport(f.Outgoing, frozen=True):
    """Outcomes by component and source."""

    currency: str
    components: tuple[ComponentParts, ...]
