"""Parts by source: what cured, what did not, and the cheapest way to a working car."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median, quantiles

from baylore_kb.parts.chance import ENOUGH_SOURCES, LEAST, FailureChance, class_prior, pooled
from baylore_kb.parts.choice import Way, cheapest_way
from baylore_kb.parts.life import cost_per_1000_km, life_curve, usual_shape
from baylore_kb.parts.safety import is_safety_part
from baylore_kb.parts.sentences import says
from baylore_kb.parts.trials import Trials, trials
from baylore_kb.parts.ways import Offer, unsure_retry_cost
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, SourceKind, Terms

# Before a shop has seen anything: one fitting in twelve does not last; from memory.
FIRST_GUESS_FAIL = 0.08
CLASS_WEIGHT = 2.0
# Five sources that happen to fail alike must not be taken for proof that they are alike.
MOST_STRENGTH = 20.0
FITTING_MIN = 60.0


@dataclass(frozen=True, slots=True)
class SourceParts:
    """One component from one source: counts, shrunk success in [0, 1] with 90 % limits, and money.

    `median_price` and `expected_cost` are in the shop's currency, None without a price.
    `elsewhere` of the `no_change` were fitted where the fault lay in another part. `life_km` is the mean
    distance such a part runs and `per_1000_km` the money it costs; None under three failures by odometer.
    `prices` are the quartiles of what was paid, None under four.
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
    life_km: float | None = None
    per_1000_km: float | None = None
    prices: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class ComponentParts:
    """All sources of one component, most tried first.

    `cheapest_way` is the source to fit first; None for a safety part, without prices, or for no sources.
    `way` says how often to try it and what then. `undecided` when it is cheaper than the next with a
    probability between 25 and 75 %. A `safety` part is never chosen by its cost.
    """

    component: str
    sources: tuple[SourceParts, ...]
    cheapest_way: SourceKind | None
    undecided: bool
    says: str
    way: Way | None = None
    safety: bool = False


def part_outcomes(
    cases: Iterable[Case], *, component: str | None = None, terms: Terms, trade: Trade | None = None
) -> tuple[ComponentParts, ...]:
    """Part outcomes by component, most tried first; only `component` when given, empty for none.

    Success is shrunk to the component's and the shop's rate. Expected cost assumes the same
    source is fitted until it works: price + labour, and a comeback for each failure, over all that
    its failure chance may be.
    """
    lists = trade or load()
    found = trials(cases, lists)
    shop_rate = _rate(found.values(), FIRST_GUESS_FAIL, weight=8.0)
    wanted = found if component is None else {component: found[component]} if component in found else {}
    listed = (_component(name, held, shop_rate, terms, trade=lists) for name, held in wanted.items())
    return tuple(sorted(listed, key=lambda parts: (-sum(s.tried for s in parts.sources), parts.component)))


def best_source(
    cases: Iterable[Case], component: str, *, terms: Terms, trade: Trade | None = None
) -> SourceParts | None:
    """The source to fit first: the cheapest way; the maker's for safety parts, even if never tried.

    The most surely working source without prices. None when nothing is known of the component.
    """
    known = part_outcomes(cases, component=component, terms=terms, trade=trade)
    if not known:
        return None
    parts = known[0]
    by_source = {source.source: source for source in parts.sources}
    if parts.safety:
        return by_source.get("maker") or _untried_maker()
    surest = max(parts.sources, key=lambda source: source.low)
    return by_source[parts.cheapest_way] if parts.cheapest_way else surest


def _untried_maker() -> SourceParts:
    """The maker's part before it was ever fitted: as the shop's first guess has it."""
    guess = class_prior(FIRST_GUESS_FAIL)
    return _source("maker", Trials(), guess, money=_Money(FITTING_MIN, Terms()))


def _rate(counts: Iterable[Mapping[SourceKind, Trials]], base: float, *, weight: float) -> float:
    """Failures over judged fittings, drawn to `base` by `weight` fittings; inside 0 to 1."""
    every = [held for sources in counts for held in sources.values()]
    failed, judged = sum(t.failed for t in every), sum(t.judged for t in every)
    return (failed + weight * base) / (judged + weight)


@dataclass(frozen=True, slots=True)
class _Money:
    """What a fitting and a failure cost: minutes of labour, and the shop's terms."""

    labour_min: float
    terms: Terms

    def offer(self, price: float, fail: float) -> Offer:
        """One source at its price and mean chance of failing."""
        per_min = self.terms.rate_per_hour / 60.0
        return Offer(price, self.labour_min * per_min, fail, self.terms.comeback_cost_min * per_min)


def _component(
    name: str, held: Mapping[SourceKind, Trials], shop_rate: float, terms: Terms, *, trade: Trade
) -> ComponentParts:
    prior = _prior(held, shop_rate)
    money = _Money(median([m for t in held.values() for m in t.minutes] or [FITTING_MIN]), terms)
    chances = {source: prior.after(t.failed, t.judged) for source, t in held.items()}
    shape = usual_shape(name, trade)
    rows = [_source(source, t, chances[source], money=money, shape=shape) for source, t in held.items()]
    rows.sort(key=lambda row: (-row.tried, row.source))
    safety = is_safety_part(name, trade)
    way = None if safety else _way(rows, chances, money)
    return ComponentParts(
        component=name,
        sources=tuple(rows),
        cheapest_way=way.first if way else None,
        undecided=way.undecided if way else False,
        says=says(rows, way, safety=safety, currency=terms.currency),
        way=way,
        safety=safety,
    )


def _way(
    rows: Iterable[SourceParts], chances: Mapping[SourceKind, FailureChance], money: _Money
) -> Way | None:
    offers = {
        row.source: money.offer(row.median_price, chances[row.source].mean)
        for row in rows
        if row.median_price is not None
    }
    return cheapest_way(offers, chances)


def _prior(held: Mapping[SourceKind, Trials], shop_rate: float) -> FailureChance:
    seen = [t for t in held.values() if t.judged]
    if len(seen) >= ENOUGH_SOURCES:
        prior = pooled([t.failed for t in seen], [t.judged for t in seen]).at_most(MOST_STRENGTH)
        if min(prior.a, prior.b) >= LEAST:
            return prior
    return class_prior(_rate([held], shop_rate, weight=CLASS_WEIGHT))


def _source(
    source: SourceKind, held: Trials, chance: FailureChance, *, money: _Money, shape: float = 2.0
) -> SourceParts:
    price = median(held.prices) if held.prices else None
    cost = None if price is None else unsure_retry_cost(money.offer(price, chance.mean), chance)
    life = life_curve(held.runs, shape=shape)
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
        life_km=None if life is None else life.mean_km,
        per_1000_km=cost_per_1000_km(cost, life),
        prices=_quartiles(held.prices),
    )


def _quartiles(prices: Sequence[float]) -> tuple[float, float, float] | None:
    if len(prices) < 4:
        return None
    low, middle, high = quantiles(prices, n=4, method="inclusive")
    return low, middle, high
