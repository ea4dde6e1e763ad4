"""Which parts are worth keeping on the shelf: expected demand over the time an order takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

from scipy.special import betainc

from baylore_kb.recurrence.sightings import utc
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

DAYS = 730
FEWEST = 3
MOST = 50
# Demand not seen yet is drawn a little towards none: half a fitting in two years.
_PRIOR = 0.5
# How sure to be of having a part whose price is not known.
_SUREST = 0.995


@dataclass(frozen=True, slots=True)
class Costs:
    """What being without a part costs (`rush`, money each) and what keeping one does.

    `holding` is the share of the price a part on the shelf costs in a year, over 0; `lead_days` the days an
    order takes, over 0. All are the shop's own to set; the defaults are common practice, without a source.
    """

    rush: float = 40.0
    holding: float = 0.25
    lead_days: float = 7.0


@dataclass(frozen=True, slots=True)
class Shelf:
    """How many of a part to `keep`: fitted in two years, expected in the lead time, its middle price.

    `short` is the chance that more are asked for than are kept before new ones come.
    """

    component: str
    title: str
    fitted: int
    expected: float
    price: float
    keep: int
    short: float
    seasonal: bool
    says: str


def shelf(cases: Iterable[Case], *, now: datetime, trade: Trade, costs: Costs = Costs()) -> tuple[Shelf, ...]:
    """Parts fitted three times or more in two years, those to keep first; none without a price is left out.

    Source: the newsvendor rule: keep so many that running out is as dear as holding one more; demand is
    Poisson with a gamma rate.
    """
    dates, prices = _fittings(cases, now)
    rows = [
        _row(component, days, median(prices[component]), trade=trade, costs=costs)
        for component, days in dates.items()
        if len(days) >= FEWEST and prices[component]
    ]
    return tuple(sorted(rows, key=lambda row: (-row.keep, -row.expected, row.component)))


def _fittings(
    cases: Iterable[Case], now: datetime
) -> tuple[dict[str, list[float]], defaultdict[str, list[float]]]:
    """Days ago of each fitting in two years, and prices, by component."""
    dates: defaultdict[str, list[float]] = defaultdict(list)
    prices: defaultdict[str, list[float]] = defaultdict(list)
    for case in cases:
        when = utc(case.closed or case.opened)
        ago = (now - when) / timedelta(days=1) if when else -1.0
        for part in case.complaint.parts if 0 <= ago < DAYS else ():
            dates[part.component].append(ago)
            if part.price is not None:
                prices[part.component].append(part.price)
    return dict(dates), prices


def _row(component: str, days: list[float], price: float, *, trade: Trade, costs: Costs) -> Shelf:
    seasonal = is_seasonal(days)
    # A part of this season is asked for as it was in these months of the years before.
    count, span = (_coming(days), 180.0) if seasonal else (len(days), float(DAYS))
    found = kept(count, span, price, costs)
    title = trade.components[component].title if component in trade.components else component
    return Shelf(
        component=component,
        title=title,
        fitted=len(days),
        expected=found.expected,
        price=price,
        keep=found.keep,
        short=found.short,
        seasonal=seasonal,
        says=_says(title, found.keep, found.short, count=len(days), seasonal=seasonal),
    )


def is_seasonal(days: list[float]) -> bool:
    """Whether the next three months had half of the fittings or more in the years before; five at least."""
    return len(days) >= 5 and _coming(days) >= 0.5 * len(days)


def _coming(days: list[float]) -> int:
    """Fittings of the next 90 days in the years before: 275 to 365 days ago, and a year before that."""
    return sum(275 <= ago % 365 < 365 for ago in days)


@dataclass(frozen=True, slots=True)
class Kept:
    """How many to `keep`, the demand `expected` over the lead time, and the chance to run `short` of it."""

    keep: int
    expected: float
    short: float


def kept(count: int, span: float, price: float, costs: Costs) -> Kept:
    """What to keep of a part fitted `count` times in `span` days (over 0); a price of 0 is not known."""
    over = price * costs.holding * costs.lead_days / 365.0
    enough = costs.rush / (costs.rush + over) if price > 0.0 else _SUREST
    share = span / (span + costs.lead_days)
    keep = 0
    # The chance of at most k is a regularised beta: demand is negative binomial.
    while keep < MOST and float(betainc(count + _PRIOR, keep + 1.0, share)) < enough:
        keep += 1
    short = 1.0 - float(betainc(count + _PRIOR, keep + 1.0, share))
    return Kept(keep, (count + _PRIOR) * costs.lead_days / span, short)


def _says(title: str, keep: int, short: float, *, count: int, seasonal: bool) -> str:
    season = " Its season is coming." if seasonal else ""
    if not keep:
        return f"{title}: order when needed; {count} fitted in two years.{season}"
    return (
        f"{title}: keep {keep}; {count} fitted in two years, {100 * short:.0f} % chance to run out before an "
        f"order comes.{season}"
    )
