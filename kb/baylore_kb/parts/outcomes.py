"""Parts by source: what cured, what did not, and the cheapest way to a working car."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import median

import numpy as np
from scipy.special import betaincinv

from baylore_kb.parts.chance import ENOUGH_SOURCES, LEAST, FailureChance, class_prior, pooled
from baylore_kb.parts.sentences import says
from baylore_kb.parts.trials import Trials, trials
from baylore_kb.parts.ways import Offer, retry_cost
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, SourceKind, Terms

# Before a shop has seen anything: one fitting in twelve does not last; from memory.
FIRST_GUESS_FAIL = 0.08
CLASS_WEIGHT = 2.0
# Five sources that happen to fail alike must not be taken for proof that they are alike.
MOST_STRENGTH = 20.0
FITTING_MIN = 60.0
# Where a failure can hurt somebody, cheapest is not allowed to decide.
SAFETY_SYSTEMS = frozenset({"brakes", "steering", "restraint", "hv"})
UNDECIDED = (0.25, 0.75)


@dataclass(frozen=True, slots=True)
class SourceParts:
    """One component from one source: counts, shrunk success in [0, 1] with 90 % limits, and money.

    `median_price` and `expected_cost` are in the shop's currency, None without a price.
    `elsewhere` of the `no_change` were fitted where the fault lay in another part.
    """

    source: SourceKind
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


@dataclass(frozen=True, slots=True)
class ComponentParts:
    """All sources of one component, most tried first.

    `cheapest_way` is None for a safety part, without prices, or for no sources;
    `undecided` when the two cheapest differ less than what is known of them.
    """

    component: str
    sources: tuple[SourceParts, ...]
    cheapest_way: SourceKind | None
    undecided: bool
    says: str


def part_outcomes(
    cases: Iterable[Case], *, component: str | None = None, terms: Terms, trade: Trade | None = None
) -> tuple[ComponentParts, ...]:
    """Part outcomes by component, most tried first; only `component` when given, empty for none.

    Success is shrunk to the component's and the shop's rate. Expected cost assumes the same
    source is fitted until it works: price + labour, and a comeback for each failure.
    """
    found = trials(cases, trade or load())
    shop_rate = _rate(found.values(), FIRST_GUESS_FAIL, weight=8.0)
    wanted = found if component is None else {component: found[component]} if component in found else {}
    listed = (_component(name, held, shop_rate, terms) for name, held in wanted.items())
    return tuple(sorted(listed, key=lambda parts: (-sum(s.tried for s in parts.sources), parts.component)))


def best_source(
    cases: Iterable[Case], component: str, *, terms: Terms, trade: Trade | None = None
) -> SourceParts | None:
    """The source to fit: the cheapest way, or for safety parts the one most surely working.

    None when nothing is known of the component.
    """
    known = part_outcomes(cases, component=component, terms=terms, trade=trade)
    if not known:
        return None
    parts = known[0]
    by_source = {source.source: source for source in parts.sources}
    surest = max(parts.sources, key=lambda source: source.low)
    return by_source[parts.cheapest_way] if parts.cheapest_way else surest


def _rate(counts: Iterable[Mapping[SourceKind, Trials]], base: float, *, weight: float) -> float:
    """Failures over judged fittings, drawn to `base` by `weight` fittings; inside 0 to 1."""
    every = [held for sources in counts for held in sources.values()]
    failed, judged = sum(t.failed for t in every), sum(t.judged for t in every)
    return (failed + weight * base) / (judged + weight)


def _component(
    name: str, held: Mapping[SourceKind, Trials], shop_rate: float, terms: Terms
) -> ComponentParts:
    prior = _prior(held, shop_rate)
    labour_min = median([m for t in held.values() for m in t.minutes] or [FITTING_MIN])
    chances = {source: prior.after(t.failed, t.judged) for source, t in held.items()}
    rows = [_source(source, t, chances[source], labour_min, terms=terms) for source, t in held.items()]
    rows.sort(key=lambda row: (-row.tried, row.source))
    priced = sorted(
        (row for row in rows if row.expected_cost is not None), key=lambda row: row.expected_cost or 0.0
    )
    safety = name.split(".")[0] in SAFETY_SYSTEMS
    cheapest = priced[0] if priced and not safety else None
    undecided = len(priced) > 1 and _undecided(priced, chances, labour_min, terms)
    return ComponentParts(
        component=name,
        sources=tuple(rows),
        cheapest_way=cheapest.source if cheapest else None,
        undecided=undecided,
        says=says(rows, cheapest, undecided=undecided, safety=safety, currency=terms.currency),
    )


def _prior(held: Mapping[SourceKind, Trials], shop_rate: float) -> FailureChance:
    seen = [t for t in held.values() if t.judged]
    if len(seen) >= ENOUGH_SOURCES:
        prior = pooled([t.failed for t in seen], [t.judged for t in seen]).at_most(MOST_STRENGTH)
        if min(prior.a, prior.b) >= LEAST:
            return prior
    return class_prior(_rate([held], shop_rate, weight=CLASS_WEIGHT))


def _source(
    source: SourceKind, held: Trials, chance: FailureChance, labour_min: float, *, terms: Terms
) -> SourceParts:
    price = median(held.prices) if held.prices else None
    cost = None if price is None else retry_cost(_offer(price, chance.mean, labour_min, terms))
    return SourceParts(
        source=source,
        tried=held.tried,
        cured=held.cured,
        partly=held.partly,
        no_change=held.no_change,
        failed_later=held.failed_later,
        elsewhere=held.elsewhere,
        success=1.0 - chance.mean,
        low=1.0 - chance.quantile(0.95),
        high=1.0 - chance.quantile(0.05),
        median_price=price,
        expected_cost=cost,
    )


def _offer(price: float, fail: float, labour_min: float, terms: Terms) -> Offer:
    per_min = terms.rate_per_hour / 60.0
    return Offer(price, labour_min * per_min, fail, terms.comeback_cost_min * per_min)


def _undecided(
    priced: list[SourceParts], chances: Mapping[SourceKind, FailureChance], labour_min: float, terms: Terms
) -> bool:
    """Whether the cheapest is cheaper than the next with a probability between 25 and 75 %."""
    first, second = (_costs(row, chances[row.source], labour_min, terms) for row in priced[:2])
    share = float((first[:, None] < second[None, :]).mean())
    return UNDECIDED[0] <= share <= UNDECIDED[1]


def _costs(row: SourceParts, chance: FailureChance, labour_min: float, terms: Terms) -> np.ndarray:
    """Expected costs at evenly spread quantiles of the failure chance: a draw without chance."""
    fails = betaincinv(chance.a, chance.b, (np.arange(100) + 0.5) / 100.0)
    offers = (_offer(row.median_price or 0.0, float(fail), labour_min, terms) for fail in fails)
    return np.array([retry_cost(offer) for offer in offers])
