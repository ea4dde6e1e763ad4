"""Repairs that could be tried now, what each costs, and which must not be tried unproved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baylore_kb.causes import Posterior
from baylore_kb.causes.evidence import NOT_MENDED_BY_A_PART
from baylore_kb.parts import is_safety_cause
from baylore_kb.tally import NO_SUM, Sum, Tally
from baylore_kb.trade.model import Cause, Trade
from baylore_kb.values import CauseChance, SourceKind, Terms

# Minutes and money of a correction nobody has listed; common practice, no published source.
UNKNOWN_REPAIR_MIN = 90.0
# The money of the trade lists, and what an hour is worth in it; from memory, no published source.
LISTED_IN = Terms(rate_per_hour=95.0, currency="USD")
# Shop jobs that outweigh the listed labour hours and part price by themselves.
PRIOR_JOBS = 2.0


@dataclass(frozen=True, slots=True)
class Mend:
    """One repair: the causes it cures (first the likeliest), minutes with money, and the way to do it.

    `cost` is in minutes of the shop's rate, `part` what its part alone comes to (0 without one).
    `safety` asks for proof before parts.
    """

    cures: tuple[str, ...]
    component: str | None
    cost: float
    part_source: SourceKind | None
    safety: bool
    part: float = 0.0

    @property
    def cause(self) -> str:
        """The likeliest cause that it cures."""
        return self.cures[0]


@dataclass(frozen=True, slots=True)
class PartWay:
    """The part source the shop's memory favours, and the money to a cure that way (None: no price)."""

    source: SourceKind
    expected_cost: float | None


def mends(
    rows: Iterable[CauseChance],
    posterior: Posterior,
    *,
    trade: Trade,
    terms: Terms,
    ways: Mapping[str, PartWay],
) -> tuple[Mend, ...]:
    """A repair for each of these causes; one new part that cures several of them stands once.

    No causes give no repairs.
    """
    groups: dict[str, list[str]] = {}
    for row in rows:
        cause = trade.causes.get(row.cause)
        groups.setdefault(mended_by(cause) if cause else row.cause, []).append(row.cause)
    return tuple(
        _mend(tuple(group), posterior.tally, trade=trade, terms=terms, ways=ways) for group in groups.values()
    )


def mended_by(cause: Cause) -> str:
    """What mends it: a new part of its component, or by its own id what no part mends."""
    return cause.id if cause.mode in NOT_MENDED_BY_A_PART else cause.component


def one_repair_cures(cause: str, other: str, trade: Trade) -> bool:
    """Whether the repair of a cause cures the other too; of causes no list knows only when they are one."""
    known, truth = trade.causes.get(cause), trade.causes.get(other)
    return cause == other or (
        known is not None and truth is not None and mended_by(known) == mended_by(truth)
    )


def _mend(
    group: tuple[str, ...], tally: Tally, *, trade: Trade, terms: Terms, ways: Mapping[str, PartWay]
) -> Mend:
    cause = trade.causes.get(group[0])
    if cause is None:
        minutes = tally.labour.get(group[0], NO_SUM).mean
        return Mend(group, None, UNKNOWN_REPAIR_MIN if minutes is None else minutes, None, safety=False)
    way = ways.get(cause.component) if cause.mode not in NOT_MENDED_BY_A_PART else None
    cost = repair_minutes(cause, tally, terms=terms)
    if way is not None and way.expected_cost is not None:
        cost = way.expected_cost * 60.0 / terms.rate_per_hour
    part = part_minutes(cause, tally, terms=terms) if cause.mode not in NOT_MENDED_BY_A_PART else 0.0
    return Mend(
        group, cause.component, cost, way.source if way else _usual(cause), is_safety_cause(cause), part
    )


def repair_minutes(cause: Cause, tally: Tally, *, terms: Terms) -> float:
    """Minutes of the correction, its part as minutes of the shop's rate; the shop's own jobs come first."""
    listed = 30.0 * (cause.labour_low_h + cause.labour_high_h)
    labour = _shrunk(listed, tally.labour.get(cause.id, NO_SUM))
    return labour + part_minutes(cause, tally, terms=terms)


def part_minutes(cause: Cause, tally: Tally, *, terms: Terms) -> float:
    """The price of one try of the correction as minutes of the shop's rate; 0 where no price is listed."""
    if not cause.part_price:
        return 0.0
    price = _shrunk(listed_price(cause.part_price, terms), tally.prices.get(cause.component, NO_SUM))
    return price * 60.0 / terms.rate_per_hour


def listed_price(usd: float, terms: Terms) -> float:
    """A price of the trade lists, which are in USD, in the shop's currency.

    No exchange rate is known here, so an hour of work stands for the same worth everywhere: at 9500 JPY
    an hour, 95 USD are 9500 JPY. A shop that reckons in USD keeps the price as it is.
    """
    return (
        usd if terms.currency == LISTED_IN.currency else usd * terms.rate_per_hour / LISTED_IN.rate_per_hour
    )


def _shrunk(listed: float, seen: Sum) -> float:
    return (PRIOR_JOBS * listed + seen.total) / (PRIOR_JOBS + seen.weight)


def _usual(cause: Cause) -> SourceKind | None:
    needs_part = cause.mode not in NOT_MENDED_BY_A_PART and cause.part_price != 0
    return "maker" if needs_part else None
