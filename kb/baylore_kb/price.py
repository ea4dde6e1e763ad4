"""What such jobs came to, to say aloud: least, middle and most of the nearest past cases."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from baylore_kb.values import Case, Labour, Match, PriceSpan, Terms

LEAST_CHANCE = 0.15
MOST_CASES, LEAST_CASES = 9, 3


def price_span(matches: Iterable[Match], terms: Terms) -> PriceSpan | None:
    """The span over at most nine cured cases that are at least 15 % likely the same, best first.

    Labour is reckoned anew: billed minutes at today's rate; parts and other money as they were. The middle
    is the median weighted by chance. Cases in another currency, without any money or minutes, or that came
    back are left out; fewer than three give None, since two sums are no span.
    """
    likely = sorted((each for each in matches if each.chance >= LEAST_CHANCE), key=lambda each: -each.chance)
    counting = islice((each for each in likely if _counts(each.case, terms)), MOST_CASES)
    paid = sorted((today(each.case, terms), each.chance) for each in counting)
    if len(paid) < LEAST_CASES:
        return None
    return PriceSpan(len(paid), paid[0][0], _middle(paid), paid[-1][0], terms.currency)


def _counts(case: Case, terms: Terms) -> bool:
    cured = case.state == "closed" and case.cause is not None and not case.returned_as
    ours = case.cost.currency == terms.currency or not (case.cost.currency or case.cost.total)
    return cured and ours and today(case, terms) > 0


def today(case: Case, terms: Terms) -> float:
    """Money the job would be today, in the shop's currency; 0 where nothing of it is known.

    A job without minutes keeps the labour that was written.
    """
    timed = case.labour.diagnosis_min + case.labour.repair_min > 0
    labour = billed_minutes(case.labour) / 60.0 * terms.rate_per_hour if timed else case.cost.labour
    return labour + case.cost.parts + case.cost.other


def billed_minutes(labour: Labour) -> float:
    """Minutes that were charged, never below 0."""
    return max(0.0, labour.diagnosis_min + labour.repair_min - labour.not_billed_min)


def _middle(paid: list[tuple[float, float]]) -> float:
    """Median of rising sums weighted by chance; halfway where the weight splits evenly."""
    half, below = sum(chance for _, chance in paid) / 2.0, 0.0
    for place, (money, chance) in enumerate(paid):
        below += chance
        if abs(below - half) < 1e-9 * half and place + 1 < len(paid):
            return (money + paid[place + 1][0]) / 2.0
        if below > half:
            return money
    return paid[-1][0]
