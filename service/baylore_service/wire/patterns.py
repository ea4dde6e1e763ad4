"""What keeps failing and which parts cure, as answered."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from baylore_service.wire import fields as f


class Share(f.Outgoing, frozen=True):
    """So many of so many, with a 95 % interval of the chance."""

    count: int
    of: int
    low: float
    high: float


class Trend(f.Outgoing, frozen=True):
    """How the count grows against its expectation from month to month; `p` the chance of it by luck."""

    per_period: float
    p: float
    rising: bool


class Since(f.Outgoing, frozen=True):
    """The first month of a new rate, the 90 % span of that month, and the new rate over the old."""

    month: str
    earliest: str
    latest: str
    times: float


class PerVisits(f.Outgoing, frozen=True):
    """Cases per 100 recorded neutral visits of these cars, with exact 95 % limits."""

    visits: int
    per_100: float
    low: float
    high: float


class RecurrenceRow(f.Outgoing, frozen=True):
    """A failure that comes back: observed against expected with its interval.

    `p` is the chance of as many by luck, `q` the share of false discoveries at which it is one.
    `odometer_km` is where it failed: lower quartile, middle, upper quartile. `years` are the first and last
    model year, `cases` the newest 200, `first_cured` those that stayed cured of those settled.
    """

    key: dict[str, str]
    title: str
    observed: int
    expected: float | None
    ratio: float | None
    low: float | None
    high: float | None
    p: float | None
    q: float | None
    signal: Literal["strong", "signal", "none"]
    first: datetime | None
    last: datetime | None
    years: tuple[int, int] | None
    median_minutes: float | None
    median_diagnosis: float | None
    median_cost: float | None
    total_cost: float
    comebacks: int
    first_cured: Share | None
    odometer_km: tuple[float, float, float] | None
    trend: Trend | None
    since: Since | None
    per_visits: PerVisits | None
    cases: tuple[str, ...]


class Recurrences(f.Outgoing, frozen=True):
    """Recurring failures, strongest first, with what cannot be known; `pairs` counts the rows there are."""

    by: tuple[str, ...]
    since: datetime | None
    until: datetime | None
    cases: int
    pairs: int
    rows: tuple[RecurrenceRow, ...]
    notes: tuple[str, ...]


class Month(f.Outgoing, frozen=True):
    """A month's count against what that month's traffic let expect; `changed` the chance of a change."""

    month: str
    observed: int
    expected: float
    changed: float


class Timeline(f.Outgoing, frozen=True):
    """A row month by month."""

    row: RecurrenceRow
    months: tuple[Month, ...]
    says: str


class LifeStep(f.Outgoing, frozen=True):
    """At `at` km, `failed` of `at_risk` failed; the share alive after it with 95 % limits."""

    at: float
    at_risk: int
    failed: int
    survival: float
    low: float
    high: float


class LifeFit(f.Outgoing, frozen=True):
    """A Weibull life; `scale` in km."""

    shape: float
    scale: float


class Life(f.Outgoing, frozen=True):
    """How far a part runs on cars this shop knows; no steps and no fit where too little is known."""

    model: str
    component: str
    cars: int
    failures: int
    dropped: int
    steps: tuple[LifeStep, ...]
    median_km: float | None
    fit: LifeFit | None
    quartiles: tuple[float, float, float] | None
    says: str


class VisitCount(f.Incoming, frozen=True):
    """How many cars of a model came for neutral reasons (oil, tyres) in a month; 0 takes the count back."""

    month: Annotated[str, Meta(pattern=f.MONTH, max_length=7)]
    model: f.CarWord
    count: Annotated[int, Meta(ge=0, le=100_000)]
    make: f.CarWord | None = None


class Visits(f.Outgoing, frozen=True):
    """All counts of neutral visits."""

    visits: tuple[VisitCount, ...]


class SourceRow(f.Outgoing, frozen=True):
    """Outcomes of one source of a component; success chances in [0, 1].

    `elsewhere` counts parts that could not have cured, for the fault lay elsewhere. `prices` are quartiles.
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
    prices: tuple[float, float, float] | None


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
