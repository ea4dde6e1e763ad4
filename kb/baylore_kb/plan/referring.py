"""Giving a job away, with what is missing here and what it comes to."""

from __future__ import annotations

from baylore_kb.plan.mends import Mend
from baylore_kb.plan.proof import best_prover
from baylore_kb.plan.weighed import Weighed
from baylore_kb.plan.wording import lines, minutes
from baylore_kb.values import Step

# A barred test that saves this much is worth naming, and worth another hand or a certificate.
WORTH_A_CERTIFICATE_MIN = 15.0


def refer(weighed: Weighed, because: str) -> Step:
    """Give the job away because of something; says which barred test would have told, and the cost."""
    first = weighed.posterior.causes[0]
    cost = weighed.money(weighed.worth.choice.refer)
    return Step(
        do="refer",
        why=lines(
            because,
            missing(weighed) or f"Likeliest left: {first.title} at {first.probability:.0%}.",
            f"Given away it comes to about {cost:.0f} {weighed.terms.currency}.",
        ),
        cause=first.cause,
        expected_cost=cost,
    )


def missing(weighed: Weighed) -> str | None:
    """The barred test that would tell most, and what bars it; None where none saves much."""
    place = best_barred(weighed)
    return None if place is None else _would_tell(weighed, place)


def best_barred(weighed: Weighed) -> int | None:
    """The test that saves most of those barred, if that is much; what was only put off is not barred."""
    barred = [place for place, bar in weighed.bars.items() if not bar.lifted_here]
    best = max(barred, key=weighed.saves, default=None)
    return best if best is not None and weighed.saves(best) >= WORTH_A_CERTIFICATE_MIN else None


def _would_tell(weighed: Weighed, place: int) -> str:
    return f"{weighed.layout.tests[place].title} would tell; {weighed.bars[place].note}."


def unproved(weighed: Weighed, mend: Mend) -> Step:
    """A part of a safety system that cannot be proved here."""
    barred = best_prover(weighed, mend, weighed.bars)
    because = f"Must be proved before parts, and no test left here can: {weighed.title(mend)}."
    step = refer(weighed, because)
    if barred is None:
        return step
    first, _, rest = step.why.split("\n", maxsplit=2)
    return Step(
        "refer",
        lines(first, _would_tell(weighed, barred), rest),
        None,
        step.cause,
        None,
        None,
        step.expected_cost,
    )


def nothing_pays(weighed: Weighed) -> Step:
    """Everything left here costs more than giving the job away."""
    choice = weighed.worth.choice
    left = min([*choice.by_test, *choice.by_repair], default=None)
    if left is None:
        return refer(weighed, "No test and no repair is left here.")
    here, away = minutes(left), minutes(choice.refer)
    if here == away:
        return refer(weighed, f"All that is left here costs no less than giving it away, {away}.")
    return refer(weighed, f"All that is left here comes to {here}, giving it away to {away}.")


def nothing_likely(weighed: Weighed) -> Step:
    """Long tested and nothing likely."""
    return refer(weighed, f"Nothing is likely after {weighed.spent:.0f} minutes.")
