"""One row of the recurrence list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Literal, NamedTuple

from baylore_kb.recurrence.change import Change
from baylore_kb.recurrence.groups import Group
from baylore_kb.recurrence.intervals import garwood_count, jeffreys_proportion
from baylore_kb.recurrence.monthly import month_name
from baylore_kb.recurrence.sightings import title_of
from baylore_kb.recurrence.trend import Trend
from baylore_kb.trade.model import Trade

Signal = Literal["strong", "signal", "none"]
LEAST = 3
STRONG_RATIO = 2.0


@dataclass(frozen=True, slots=True)
class Share:
    """So many of so many, with the Jeffreys 95 % interval of the chance."""

    count: int
    of: int
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Since:
    """The first month of a new rate (as 2026-03), the 90 % span of that, and the new rate over the old."""

    month: str
    earliest: str
    latest: str
    times: float


@dataclass(frozen=True, slots=True)
class PerVisits:
    """Cases per 100 recorded neutral visits (oil, tyres) of these cars, with exact 95 % limits."""

    visits: int
    per_100: float
    low: float
    high: float


class Against(NamedTuple):
    """What a count is held against: the shrunk ratio with its limits, tail chance, adjustment."""

    expected: float
    ratio: float
    low: float
    high: float
    p: float
    q: float


@dataclass(frozen=True, slots=True)
class Recurrence:
    """A failure that came back: how often, against what was to be expected, and what it took.

    `ratio` is shrunk, with 90 % limits; `p` is the chance of as many by luck, `q` the share of false
    discoveries at which it is one; all None where nothing could be expected (no car or no failure in the
    key). Medians are over the cases that have the figure, None without any; money is in the cases'
    currency. `odometer_km` are the quartiles at failure of the seen cases only, None under four.
    `comebacks` are returns with the same key, which are not observed again; `first_cured` those that did
    not come back of those settled. `cases` are the newest 200.
    """

    key: Mapping[str, str]
    title: str
    observed: int
    expected: float | None
    ratio: float | None
    low: float | None
    high: float | None
    p: float | None
    q: float | None
    signal: Signal
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


class Beside(NamedTuple):
    """What a row is told beside its group: how its months rise and where they changed, counted from month
    `start`, the time of asking and its cars' neutral visits.
    """

    trend: Trend | None
    change: Change | None
    start: int
    now: datetime | None
    visits: int


def recurrence(
    key: Mapping[str, str], group: Group, against: Against | None, *, beside: Beside, trade: Trade
) -> Recurrence:
    """The row of a group of one or more."""
    facts, count = group.facts, group.count
    held, judged = facts.cured_at_first(beside.now)
    return Recurrence(
        key=key,
        title=group.title(lambda case: ", ".join(title_of(*named, case, trade) for named in key.items())),
        observed=count,
        expected=against.expected if against else None,
        ratio=against.ratio if against else None,
        low=against.low if against else None,
        high=against.high if against else None,
        p=against.p if against else None,
        q=against.q if against else None,
        signal=signal_of(count, against.low if against else 0.0),
        first=facts.first,
        last=facts.last,
        years=facts.years,
        median_minutes=facts.median_minutes,
        median_diagnosis=facts.median_diagnosis,
        median_cost=facts.median_cost,
        total_cost=facts.total_cost,
        comebacks=group.returns,
        first_cured=share(held, judged) if judged else None,
        odometer_km=facts.odometer_km,
        trend=beside.trend,
        since=since_of(beside.change, beside.start) if beside.change else None,
        per_visits=per_visits(count, beside.visits),
        cases=facts.cases,
    )


def signal_of(observed: int, low: float) -> Signal:
    """The mark of a row by its count and its lower 5 % limit."""
    if observed < LEAST or low <= 1.0:
        return "none"
    return "strong" if low > STRONG_RATIO else "signal"


@lru_cache(maxsize=1 << 15)
def share(count: int, of: int) -> Share:
    """A share with its interval."""
    return Share(count, of, *jeffreys_proportion(count, of))


def since_of(change: Change, start: int) -> Since:
    """Since when a rate differs, its months counted from month `start`."""
    first, last = change.span()
    month, earliest, latest = (month_name(start + at + 1) for at in (change.after, first, last))
    return Since(month, earliest, latest, change.after_rate / change.before_rate)


def per_visits(count: int, visits: int) -> PerVisits | None:
    """Cases per 100 neutral visits; None where none are recorded."""
    if visits <= 0:
        return None
    low, high = garwood_count(count)
    return PerVisits(visits, 100.0 * count / visits, 100.0 * low / visits, 100.0 * high / visits)
