"""The one next step: test, replace, ask or refer, and why, in three lines at most."""

from __future__ import annotations

from baylore_kb.causes.evidence import REPRODUCES
from baylore_kb.plan.asking import question_to_ask
from baylore_kb.plan.driven import load_check
from baylore_kb.plan.line import replace_above
from baylore_kb.plan.mends import Mend
from baylore_kb.plan.proof import NEAR_SURE, before_buying, best_prover, confirmed, proved_safe
from baylore_kb.plan.referring import best_barred, nothing_likely, nothing_pays, refer, unproved
from baylore_kb.plan.staying import without_moving
from baylore_kb.plan.weighed import Weighed
from baylore_kb.plan.wording import lines, minutes, short, tells_apart
from baylore_kb.values import Step

# The stop line: this long without anything likely, the job is better given away; common practice.
LONG_MIN, LIKELY = 90.0, 0.3


def next_step(weighed: Weighed) -> Step:
    """What to do next; never a test this member may not do, never an unproved part of a safety system."""
    if _stop_line_reached(weighed):
        return nothing_likely(weighed)
    asked = question_to_ask(weighed.question, weighed.posterior, weighed.trade)
    if asked is not None:
        return asked
    kind, index = weighed.worth.first
    if kind != "repair" and (verified := _verify_first(weighed)) is not None:
        return verified
    if kind == "test":
        return _test(weighed, without_moving(weighed, index))
    if kind == "repair":
        return _repair(weighed, weighed.layout.mends[index])
    return nothing_pays(weighed)


def _stop_line_reached(weighed: Weighed) -> bool:
    return weighed.spent >= LONG_MIN and weighed.posterior.causes[0].probability < LIKELY


def _test(weighed: Weighed, place: int) -> Step:
    test = weighed.row(place)
    return Step(
        do="test",
        why=lines(
            tells_apart(test.tells_apart),
            f"{minutes(test.minutes)}, {test.setup}; saves about {minutes(test.saves)}.",
            _fell(weighed) or _line(weighed),
        ),
        test=test.test,
        cause=weighed.posterior.causes[0].cause,
        expected_cost=weighed.money(weighed.worth.choice.best),
    )


def _fell(weighed: Weighed) -> str | None:
    fell = next(iter(weighed.posterior.dropped), None)
    return f"{fell.title} fell from {fell.before:.0%} to {fell.after:.0%} ({fell.by})." if fell else None


def _line(weighed: Weighed) -> str | None:
    """The chance above which the leading repair is done without any test left."""
    mend = _leading(weighed)
    if mend is None or mend.safety:
        return None
    floor = NEAR_SURE if before_buying(weighed, mend) is not None else 0.0
    line = replace_above(weighed.worth.near, weighed.layout.mends.index(mend), at_least=floor)
    return None if line is None else f"{short(weighed.title(mend), 50)}: replace untested above {line:.0%}."


def _leading(weighed: Weighed) -> Mend | None:
    first = weighed.posterior.causes[0].cause
    return next((mend for mend in weighed.layout.mends if first in mend.cures), None)


def _repair(weighed: Weighed, mend: Mend) -> Step:
    """The repair, unless its proof comes first or a barred test would tell better."""
    if mend.safety and not proved_safe(weighed, mend):
        return _prove(weighed, mend)
    proof = before_buying(weighed, mend)
    if proof is not None:
        return _confirm(weighed, mend, proof)
    barred = best_barred(weighed)
    if barred is not None and weighed.chance(mend) < 0.5:
        return refer(weighed, f"The likeliest repair is only {weighed.chance(mend):.0%} likely to cure.")
    return _replace(weighed, mend)


def _replace(weighed: Weighed, mend: Mend) -> Step:
    return Step(
        do="replace",
        why=lines(
            f"{short(weighed.title(mend), 70)}: {weighed.chance(mend):.0%}.",
            _no_more_tests(weighed, mend),
            _driven(weighed, mend) or _fell(weighed),
        ),
        cause=mend.cause,
        component=mend.component,
        part_source=mend.part_source,
        expected_cost=weighed.money(
            weighed.worth.choice.by_repair[weighed.layout.mends.index(mend)],
        ),
    )


def _no_more_tests(weighed: Weighed, mend: Mend) -> str:
    if weighed.posterior.settled in mend.cures:
        return "A test showed it; do not test further."
    if confirmed(weighed, mend):
        return "It is proved or near sure; no test left saves more than it costs."
    return "No test left saves more than it costs."


def _driven(weighed: Weighed, mend: Mend) -> str | None:
    done = {test.test for test in weighed.question.complaint.tests}
    check = load_check(mend.cause, weighed.trade, done=done)
    return f"First measure what it drives, or the new one dies too: {check.title}." if check else None


def _prove(weighed: Weighed, mend: Mend) -> Step:
    """A test that can prove a safety cause before any part; without one the job is given away."""
    place = best_prover(weighed, mend, weighed.open)
    if place is None:
        return unproved(weighed, mend)
    return _proof_step(
        weighed,
        mend,
        place,
        because=f"Safety: prove before any part: {weighed.title(mend)}.",
    )


def _confirm(weighed: Weighed, mend: Mend, place: int) -> Step:
    part = weighed.money(mend.part)
    return _proof_step(
        weighed,
        mend,
        place,
        because=f"Confirm before buying: {weighed.title(mend)}.",
        more=f"It is {weighed.chance(mend):.0%} likely, and its part costs about {part:.0f}"
        f" {weighed.terms.currency}.",
    )


def _proof_step(weighed: Weighed, mend: Mend, place: int, *, because: str, more: str | None = None) -> Step:
    test = weighed.row(place)
    return Step(
        do="test",
        why=lines(because, f"{minutes(test.minutes)}, {test.setup}.", more or _fell(weighed)),
        test=test.test,
        cause=mend.cause,
        expected_cost=weighed.money(weighed.worth.choice.best),
    )


def _verify_first(weighed: Weighed) -> Step | None:
    """A fault that comes and goes is first reproduced: tests tell little of one that is away."""
    tests = weighed.layout.tests
    chosen = next((place for place in weighed.open if tests[place].id == REPRODUCES), None)
    if chosen is None or not weighed.question.complaint.comes_and_goes:
        return None
    test = weighed.row(chosen)
    return Step(
        do="test",
        why=lines(
            "It comes and goes: see it first, an ok proves little while it is away.",
            f"{minutes(test.minutes)}, {test.setup}; in the conditions it shows in.",
        ),
        test=test.test,
        cause=weighed.posterior.causes[0].cause,
        expected_cost=weighed.money(weighed.worth.choice.best),
    )
