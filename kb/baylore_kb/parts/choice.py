"""Choose among sources: which to fit first, how often to try it, and how sure that choice is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np
from scipy.special import betaincinv

from baylore_kb.parts.chance import FailureChance
from baylore_kb.parts.ways import Offer, cost_by_tries, unsure_retry_cost
from baylore_kb.values import SourceKind

# More than this many fittings of one part try a customer's patience, whatever they cost.
MOST_TRIES = 3
_DRAWS = 100
UNDECIDED = (0.25, 0.75)


@dataclass(frozen=True, slots=True)
class Way:
    """Fit `first`, after `tries` failures `then`; cost in money to a working car.

    `then` is None, and `tries` 0, where the same source is fitted until it works. `sure` is the
    chance that `first` is the cheaper of it and the best other source; None without another.
    """

    first: SourceKind
    tries: int
    then: SourceKind | None
    cost: float
    sure: float | None

    @property
    def undecided(self) -> bool:
        """Whether too little is known: the chance lies between 25 and 75 %."""
        return self.sure is not None and UNDECIDED[0] <= self.sure <= UNDECIDED[1]


def cheapest_way(
    offers: Mapping[SourceKind, Offer], chances: Mapping[SourceKind, FailureChance]
) -> Way | None:
    """The cheapest way over all priced sources, learning from each failure; None without a price.

    A cheap source is tried while its forecast after the failures so far still pays, then the
    dearer one is fitted until it works. `offers` hold the mean chance of failing.
    """
    ways = sorted(_ways(offers, chances), key=lambda way: (way.cost, way.tries, way.first))
    if not ways:
        return None
    best = ways[0]
    others = [way for way in ways if way.first != best.first and way.then is None]
    sure = _cheaper(best.first, others[0].first, offers, chances) if others else None
    return Way(best.first, best.tries, best.then, best.cost, sure)


def _ways(offers: Mapping[SourceKind, Offer], chances: Mapping[SourceKind, FailureChance]) -> Iterator[Way]:
    for source, offer in offers.items():
        yield Way(source, 0, None, unsure_retry_cost(offer, chances[source]), None)
    for first, then in permutations(offers, 2):
        yield _tries(first, then, offers, chances)


def _tries(
    first: SourceKind,
    then: SourceKind,
    offers: Mapping[SourceKind, Offer],
    chances: Mapping[SourceKind, FailureChance],
) -> Way:
    """The best number of tries, one to `MOST_TRIES`, of `first` before `then`."""
    offer = offers[first]
    costs: Sequence[float] = cost_by_tries(
        chances[first],
        fitting=offer.fitting,
        on_fail=offer.on_fail - offer.refund,
        then_cost=unsure_retry_cost(offers[then], chances[then]),
        most=MOST_TRIES,
    )
    tries = min(range(1, MOST_TRIES + 1), key=costs.__getitem__)
    return Way(first, tries, then, costs[tries], None)


def _cheaper(
    one: SourceKind,
    other: SourceKind,
    offers: Mapping[SourceKind, Offer],
    chances: Mapping[SourceKind, FailureChance],
) -> float:
    """Probability that `one`, fitted until it works, costs less than `other` so fitted."""
    first, second = (_costs(offers[source], chances[source]) for source in (one, other))
    return float((first[:, None] < second[None, :]).mean())


def _costs(offer: Offer, chance: FailureChance) -> np.ndarray:
    """Costs at evenly spread quantiles of the failure chance: draws without luck, the same each time."""
    fails = betaincinv(chance.a, chance.b, (np.arange(_DRAWS) + 0.5) / _DRAWS)
    good = np.maximum(1.0 - fails, 1e-12)
    return np.asarray((offer.fitting + fails * (offer.on_fail - offer.refund)) / good)
