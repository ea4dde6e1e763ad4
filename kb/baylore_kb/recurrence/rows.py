"""One row of the recurrence list."""

from __future__ import annotations

import math
import operator
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from itertools import repeat
from typing import Any, Literal, NamedTuple

from msgspec import Struct

from baylore_kb.recurrence.change import Change
from baylore_kb.recurrence.intervals import garwood_count, jeffreys_proportion
from baylore_kb.recurrence.monthly import month_name
from baylore_kb.recurrence.tally import SETTLED
from baylore_kb.recurrence.trend import Trend

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
    """What counts are held against, in step: shrunk ratios with their limits, tail chances, adjustments.

    All None where nothing could be expected.
    """

    expected: list[float | None]
    ratio: list[float | None]
    low: list[float | None]
    high: list[float | None]
    p: list[float | None]
    q: list[float | None]


class Recurrence(Struct, frozen=True, gc=False):
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
    """What rows are told beside their groups, in step: what they are held against, how their months rise and
    where they changed, counted from month `start`, their cars' neutral visits; and the time of asking.
    """

    against: Against
    trends: Sequence[Trend | None]
    changes: Sequence[Change | None]
    start: int
    visits: Sequence[int]
    now: datetime | None


def rows(told: Sequence[Sequence[Any]], beside: Beside) -> list[Recurrence]:
    """The rows of what is told of each key by itself, in the columns of `Counted.told`."""
    names, titles, counts, returns, _, first, last, years, *others = told
    minutes, diagnosis, cost, total, odometer, cases, came_back, held_since = others
    columns = (
        *(names, titles, counts),
        *beside.against,
        map(signal_of, counts, beside.against.low),
        *(first, last, years, minutes, diagnosis, cost, total),
        returns,
        _first_cured(held_since, came_back, beside.now),
        odometer,
        beside.trends,
        [since_of(change, beside.start) if change else None for change in beside.changes],
        map(per_visits, counts, beside.visits),
        cases,
    )
    return list(map(Recurrence, *columns))


def _first_cured(
    held_since: Sequence[Sequence[float]], came_back: Sequence[int], now: datetime | None
) -> Iterator[Share | None]:
    """How many of each stayed cured, of those that can be judged at `now`; without it of all."""
    until = math.inf if now is None else (now - SETTLED).timestamp()
    held = list(map(bisect_right, held_since, repeat(until)))
    return map(share, held, map(operator.add, held, came_back))


def signal_of(observed: int, low: float | None) -> Signal:
    """The mark of a row by its count and its lower 5 % limit; none without one."""
    if observed < LEAST or low is None or low <= 1.0:
        return "none"
    return "strong" if low > STRONG_RATIO else "signal"


@lru_cache(maxsize=1 << 15)
def share(count: int, of: int) -> Share | None:
    """A share with its interval; None of none."""
    return Share(count, of, *jeffreys_proportion(count, of)) if of else None


def since_of(change: Change, start: int) -> Since:
    """Since when a rate differs, its months counted from month `start`."""
    places = change.after, change.first, change.last
    month, earliest, latest = (month_name(start + at + 1) for at in places)
    return Since(month, earliest, latest, change.after_rate / change.before_rate)


def per_visits(count: int, visits: int) -> PerVisits | None:
    """Cases per 100 neutral visits; None where none are recorded."""
    if visits <= 0:
        return None
    low, high = garwood_count(count)
    return PerVisits(visits, 100.0 * count / visits, 100.0 * low / visits, 100.0 * high / visits)
