"""The season ahead: what failed in it last year, and how many of which parts to have ready."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

from baylore_kb.office.shelf import Costs, kept
from baylore_kb.recurrence.sightings import title_of, utc
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, PartTried

AHEAD, YEAR = 90.0, 365.0
FEWEST, MOST = 3, 5
USUAL = Costs()
# A failure belongs to a season that has so many times its share of the year.
TIMES = 1.6


@dataclass(frozen=True, slots=True)
class Stock:
    """How many of a part to `keep` for the season: `fitted` in the last such one, middle price if known.

    `expected` is the demand while an order is on its way, `short` the chance to run out meanwhile.
    """

    component: str
    title: str
    fitted: int
    expected: float
    keep: int
    short: float
    price: float | None


@dataclass(frozen=True, slots=True)
class Seasonal:
    """A failure of the season ahead: `last` cases in it last year, of `year` in that whole year."""

    cause: str
    title: str
    last: int
    year: int
    parts: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Season:
    """The 90 days after `now` as they were a year before: five failures at most and the parts they took."""

    starts: datetime
    ends: datetime
    failures: tuple[Seasonal, ...]
    stock: tuple[Stock, ...]


def season(cases: Iterable[Case], *, now: datetime, trade: Trade, costs: Costs = USUAL) -> Season:
    """What is coming, from the last such season; empty where nothing belonged to it.

    A failure belongs to it that had three cases or more in those days and 1.6 times its even share of the
    year. Parts are counted that were fitted for it in those days and did not prove useless; how many to
    keep follows the rule of the shelf, with the rate of that season.
    """
    year = [(case, ago) for case in cases if 0.0 <= (ago := _days_ago(case, now)) < YEAR]
    there = [case for case, ago in year if ago >= YEAR - AHEAD]
    whole, then = Counter(case.cause for case, _ in year), Counter(case.cause for case in there)
    even = AHEAD / YEAR
    found = [
        cause
        for cause, count in then.most_common()
        if cause and count >= FEWEST and count >= TIMES * even * whole[cause]
    ][:MOST]
    belong = [case for case in there if case.cause in found]
    stock = _stock(belong, trade, costs)
    named = {row.component: row.title for row in stock}
    failures = tuple(
        _failure([case for case in belong if case.cause == cause], whole[cause], trade=trade, named=named)
        for cause in found
    )
    return Season(now, now + timedelta(days=AHEAD), failures, stock)


def _days_ago(case: Case, now: datetime) -> float:
    """How long ago a failure was; -1 for what is none or has no time."""
    when = utc(case.opened or case.closed) if case.state == "closed" and case.cause else None
    return (now - when) / timedelta(days=1) if when else -1.0


def _fitted(cases: Iterable[Case]) -> Iterator[PartTried]:
    """The parts that were fitted and did not prove useless."""
    return (part for case in cases for part in case.complaint.parts if part.result != "no change")


def _stock(cases: Sequence[Case], trade: Trade, costs: Costs) -> tuple[Stock, ...]:
    prices: defaultdict[str, list[float]] = defaultdict(list)
    fitted: Counter[str] = Counter()
    for part in _fitted(cases):
        fitted[part.component] += 1
        prices[part.component] += [part.price] if part.price is not None else []
    rows = [_row(each, count, prices[each], trade=trade, costs=costs) for each, count in fitted.items()]
    return tuple(sorted(rows, key=lambda row: (-row.keep, -row.fitted, row.component)))


def _row(component: str, count: int, prices: Sequence[float], *, trade: Trade, costs: Costs) -> Stock:
    title = trade.components[component].title if component in trade.components else component
    price = median(prices) if prices else None
    found = kept(count, AHEAD, price or 0.0, costs)
    return Stock(component, title, count, found.expected, found.keep, found.short, price)


def _failure(cases: Sequence[Case], year: int, *, trade: Trade, named: Mapping[str, str]) -> Seasonal:
    """A failure of the season by its cases, one at least."""
    cause = cases[0].cause or ""
    parts = tuple(each for each, _ in Counter(part.component for part in _fitted(cases)).most_common())
    titled = next((case for case in cases if case.cause_title), cases[0])
    title = title_of("cause", cause, titled, trade)
    fitted = f"; fitted for it: {', '.join(named[each] for each in parts[:3])}" if parts else ""
    says = f"{title}: {len(cases)} in these three months a year ago, of {year} in that year{fitted}."
    return Seasonal(cause, title, len(cases), year, parts, says)
