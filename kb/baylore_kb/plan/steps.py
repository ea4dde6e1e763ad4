"""The one next step: test, replace, ask or refer, and why, in two plain lines."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.plan.asking import question_to_ask
from baylore_kb.plan.layout import Layout
from baylore_kb.plan.mends import Mend
from baylore_kb.plan.orders import stop_line
from baylore_kb.plan.problem import Choice
from baylore_kb.question import Question
from baylore_kb.tally import later_tests
from baylore_kb.trade.model import Trade
from baylore_kb.values import NextTest, Step, Terms

# The stop line: this long without anything likely, the job is better given away; common practice.
LONG_MIN, LIKELY = 90.0, 0.3
PROOF_RATIO, NEARLY_SURE = 2.0, 0.85
NEAR_TIE = 0.02
WORTH_A_CERTIFICATE_MIN = 15.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """Everything a decision rests on. `choice` is over the tests `open` to this member, in that order."""

    question: Question
    posterior: Posterior
    layout: Layout
    choice: Choice
    open: tuple[NextTest, ...]
    closed: tuple[NextTest, ...]
    trade: Trade
    terms: Terms


def next_step(weighed: Weighed) -> Step:
    """What to do next; never a test this member may not do, never an unproved part of a safety system."""
    if _stop_line_reached(weighed):
        return _refer(weighed, f"Nothing is likely after {_spent(weighed):.0f} minutes.")
    asked = question_to_ask(weighed.question, weighed.posterior, weighed.trade)
    if asked is not None:
        return asked
    kind, index = _first(weighed)
    if kind == "test":
        return _test(weighed, weighed.open[index])
    if kind == "repair":
        return _repair(weighed, weighed.layout.mends[index])
    return _verify_first(weighed) or _refer(weighed, "No test or repair left here pays.")


def _first(weighed: Weighed) -> tuple[str, int]:
    """The cheapest first action; of tests about as good that save their own minutes, the quickest."""
    kind, index = weighed.choice.first
    if kind != "test":
        return kind, index
    near = np.flatnonzero(weighed.choice.by_test <= weighed.choice.best * (1.0 + NEAR_TIE))
    paying = [int(k) for k in near if weighed.open[k].saves >= weighed.open[k].minutes] or [index]
    return kind, min(paying, key=lambda k: (weighed.open[k].minutes, -weighed.open[k].saves))


def _spent(weighed: Weighed) -> float:
    complaint = weighed.question.complaint
    if complaint.minutes_spent is not None:
        return complaint.minutes_spent
    return sum(done.minutes or 0.0 for done in complaint.tests)


def _stop_line_reached(weighed: Weighed) -> bool:
    return _spent(weighed) >= LONG_MIN and weighed.posterior.causes[0].probability < LIKELY


def _test(weighed: Weighed, test: NextTest) -> Step:
    apart = _listed(test.tells_apart[:3]) or "the likely causes"
    lines = [
        f"Tells apart {apart}.",
        f"{test.minutes:.0f} min, {test.setup}; saves about {test.saves:.0f} min.",
    ]
    return Step(
        do="test",
        why="\n".join(lines + _fell(weighed) + _line(weighed, test)),
        test=test.test,
        cause=weighed.posterior.causes[0].cause,
        expected_cost=_money(weighed.choice.best, weighed.terms),
    )


def _listed(titles: tuple[str, ...]) -> str:
    """Titles in a sentence: "A, B and C"."""
    return " and ".join(part for part in (", ".join(titles[:-1]), *titles[-1:]) if part)


def _fell(weighed: Weighed) -> list[str]:
    return [
        f"{fell.title} fell from {fell.before:.0%} to {fell.after:.0%} ({fell.by})."
        for fell in weighed.posterior.dropped[:1]
    ]


def _line(weighed: Weighed, test: NextTest) -> list[str]:
    """The chance above which the first repair is done without this test."""
    mends = weighed.layout.mends
    first = weighed.posterior.causes[0]
    mend = next((mend for mend in mends if mend.cause == first.cause), None)
    if mend is None or mend.safety or test.minutes >= mend.cost:
        return []
    line = stop_line(first.probability, cost_a=mend.cost, cost_b=mend.cost, test_cost=test.minutes)
    return [f"Above {line.replace_a_above:.0%} for one cause it is repaired without more testing."]


def _repair(weighed: Weighed, mend: Mend) -> Step:
    if mend.safety and not _proved(weighed, mend.cause):
        return _prove(weighed, mend)
    barred = next((test for test in weighed.closed if test.saves >= WORTH_A_CERTIFICATE_MIN), None)
    chance = sum(weighed.posterior.chance(cause) for cause in mend.cures)
    if barred is not None and chance < 0.5:
        return _refer(weighed, f"{barred.title} would tell, and needs skill {barred.skill}.")
    title = (
        weighed.posterior.causes[0].title if mend.cause not in weighed.trade.causes else _title(weighed, mend)
    )
    return Step(
        do="replace",
        why="\n".join([f"{title}: {chance:.0%}.", "No test left saves more than it costs.", *_fell(weighed)]),
        cause=mend.cause,
        component=mend.component,
        part_source=mend.part_source,
        expected_cost=_money(weighed.choice.by_repair[weighed.layout.mends.index(mend)], weighed.terms),
    )


def _title(weighed: Weighed, mend: Mend) -> str:
    return weighed.trade.causes[mend.cause].title


def _proved(weighed: Weighed, cause: str) -> bool:
    """Whether a test showed the cause, or tests speak for it and it is nearly sure or none is left."""
    posterior = weighed.posterior
    sure = posterior.chance(cause) >= NEARLY_SURE or not weighed.open
    return posterior.settled == cause or (sure and bool(_speaking_for(weighed, cause)))


def _speaking_for(weighed: Weighed, cause: str) -> set[str]:
    """Tests done with the fault present whose outcome is clearly likelier under the cause."""
    beliefs = weighed.posterior.columns.beliefs
    found = set()
    for done in later_tests(weighed.question.complaint.tests):
        if done.fault_present and beliefs.knows(done.test, done.outcome):
            row = beliefs.row(done.test, done.outcome)
            if row[beliefs.cause_at[cause]] >= PROOF_RATIO * row[-1]:
                found.add(done.test)
    return found


def _prove(weighed: Weighed, mend: Mend) -> Step:
    """The confirming test of a safety cause, or the best test left, before any part; else refer."""
    confirm = weighed.trade.causes[mend.cause].confirm_test
    chosen = next((test for test in weighed.open if test.test == confirm), None)
    chosen = chosen or max(weighed.open, key=lambda test: test.saves, default=None)
    title = _title(weighed, mend)
    if chosen is None:
        return _refer(weighed, f"{title} must be proved before parts, and no test left here can.")
    return Step(
        do="test",
        why=f"{title} is likely; a part of a safety system is proved before it is replaced.\n"
        f"{chosen.minutes:.0f} min, {chosen.setup}.",
        test=chosen.test,
        cause=mend.cause,
        expected_cost=_money(weighed.choice.best, weighed.terms),
    )


def _verify_first(weighed: Weighed) -> Step | None:
    """A fault that comes and goes is first reproduced, before the job is given away."""
    chosen = next((test for test in weighed.open if test.test == "verify_complaint"), None)
    if chosen is None or not weighed.question.complaint.comes_and_goes:
        return None
    return _test(weighed, chosen)


def _refer(weighed: Weighed, because: str) -> Step:
    first = weighed.posterior.causes[0]
    cost = _money(weighed.choice.refer, weighed.terms)
    return Step(
        do="refer",
        why=f"{because}\nLikeliest left: {first.title} at {first.probability:.0%}.",
        cause=first.cause,
        expected_cost=cost,
    )


def _money(minutes: float, terms: Terms) -> float:
    return round(float(minutes) * terms.rate_per_hour / 60.0, 2)
