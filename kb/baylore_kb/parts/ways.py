"""What a working car costs by each way of buying the part.

Money in one currency; `fail` is the chance that one fitting does not last, `on_fail` what
one failure costs beside the next fitting (diagnosis again, comeback, goodwill), `refund`
what comes back for the failed part.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from baylore_kb.parts.chance import FailureChance

_FEWEST_SUCCESSES = 1.5


@dataclass(frozen=True, slots=True)
class Offer:
    """One source: price, labour of one fitting, and what happens when it fails; fail in [0, 1]."""

    price: float
    labour: float
    fail: float
    on_fail: float
    refund: float = 0.0

    @property
    def fitting(self) -> float:
        """Money for one fitting."""
        return self.price + self.labour


def retry_cost(offer: Offer) -> float:
    """Expected cost when the same source is fitted until it works; infinite when it never does."""
    if offer.fail >= 1.0:
        return math.inf
    return (offer.fitting + offer.fail * (offer.on_fail - offer.refund)) / (1.0 - offer.fail)


def unsure_retry_cost(offer: Offer, chance: FailureChance) -> float:
    """As `retry_cost` where only a belief of the failure chance is known: more than its mean would say.

    fitting * m + (on_fail - refund) * (m - 1), m = E[1/(1-f)]. Finite also where hardly any success is
    expected: a belief of under one and a half successes counts as that.
    """
    attempts = FailureChance(chance.a, max(chance.b, _FEWEST_SUCCESSES)).attempts
    return offer.fitting * attempts + (offer.on_fail - offer.refund) * (attempts - 1.0)


def expected_visits(offer: Offer) -> float:
    """Expected fittings until one works; infinite when it never does."""
    return math.inf if offer.fail >= 1.0 else 1.0 / (1.0 - offer.fail)


def once_then_cost(first: Offer, then_cost: float) -> float:
    """Expected cost when `first` is tried once and a way costing `then_cost` follows its failure."""
    return first.fitting + first.fail * (first.on_fail - first.refund + then_cost)


def break_even_fail(first: Offer, then_cost: float) -> float:
    """The failure chance up to which trying `first` once beats going straight to the other way.

    Not over 1; 0 or less when the other way is never dearer. Infinite where a failure costs nothing.
    """
    loss = first.on_fail - first.refund + then_cost
    return (then_cost - first.fitting) / loss if loss > 0 else math.inf


def cost_by_tries(
    chance: FailureChance, *, fitting: float, on_fail: float, then_cost: float, most: int
) -> tuple[float, ...]:
    """Expected cost of at most 0, 1, ... `most` cheap tries before the other way, learning from each failure.

    After i failures the forecast is (a + i)/(a + b + i). `on_fail` is net of refunds.
    """
    return tuple(
        _with_tries(chance, tries, fitting, on_fail, then_cost=then_cost) for tries in range(most + 1)
    )


def _with_tries(
    chance: FailureChance, tries: int, fitting: float, on_fail: float, *, then_cost: float
) -> float:
    cost = then_cost
    for failed in reversed(range(tries)):
        cost = fitting + chance.after(failed, failed).mean * (on_fail + cost)
    return cost


def cost_per_distance(cost: float, *, shape: float, scale: float) -> float:
    """Long-run cost per unit of distance of a part replaced whenever it fails.

    Weibull life with shape and scale over 0; scale in the distance's unit. Source: renewal-reward theorem.
    """
    return cost / mean_life(shape=shape, scale=scale)


def mean_life(*, shape: float, scale: float) -> float:
    """Mean of a Weibull life in the unit of `scale`: scale times Gamma(1 + 1/shape)."""
    return scale * math.gamma(1.0 + 1.0 / shape)


def fails_by(distance: float, *, shape: float, scale: float) -> float:
    """Share of Weibull lives that end before `distance` (0 or more)."""
    return -math.expm1(-((distance / scale) ** shape))
