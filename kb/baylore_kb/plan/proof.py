"""Proof before parts: which test would show a cause directly, and whether one has."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from baylore_kb.plan.mends import Mend
from baylore_kb.plan.problem import Floats
from baylore_kb.plan.weighed import Weighed
from baylore_kb.tally import later_tests

PROOF_RATIO = 2.0
# An outcome rarer than this under the cause hardly ever proves it.
SEEN_AT_LEAST = 0.3
NEARLY_SURE, NEAR_SURE = 0.85, 0.92


def confirmed(weighed: Weighed, mend: Mend) -> bool:
    """Whether nothing more need be proved before a part: shown, directly confirmed, or near sure."""
    if weighed.posterior.settled in mend.cures or weighed.chance(mend) >= NEAR_SURE:
        return True
    known = (weighed.trade.causes.get(cause) for cause in mend.cures)
    direct = {cause.confirm_test for cause in known if cause}
    return not direct.isdisjoint(_speaking_for(weighed, mend))


def proved_safe(weighed: Weighed, mend: Mend) -> bool:
    """Whether a part of a safety system may go in: shown, or tests speak for it and it is nearly sure.

    Where no test is left that could prove it further, those that spoke for it must do.
    """
    if weighed.posterior.settled in mend.cures:
        return True
    sure = weighed.chance(mend) >= NEARLY_SURE or not provers(weighed, mend, weighed.open)
    return sure and bool(_speaking_for(weighed, mend))


def provers(weighed: Weighed, mend: Mend, among: Iterable[int]) -> list[int]:
    """Those tests with an outcome at least twice as likely under the repair's causes as under the rest."""
    layout = weighed.layout
    inside = np.array([row.cause in mend.cures for row in layout.rows] + [False])
    places = list(among)
    under = _seen(layout.lik[places], layout.problem.p * inside)
    other = _seen(layout.lik[places], layout.problem.p * ~inside)
    proves = ((under >= SEEN_AT_LEAST) & (under >= PROOF_RATIO * other)).any(axis=1)
    return [places[k] for k in np.flatnonzero(proves)]


def _seen(tables: Floats, shares: Floats) -> Floats:
    """(T, O) the chance of each outcome given that one of these causes is it, by their shares (C)."""
    return np.asarray(tables @ shares / max(float(shares.sum()), 1e-300))


def best_prover(weighed: Weighed, mend: Mend, among: Iterable[int]) -> int | None:
    """The cause's own confirming test if it is among them, else the one that saves most; None without."""
    found = provers(weighed, mend, among)
    known = weighed.trade.causes.get(mend.cause)
    listed = [place for place in found if known and weighed.layout.tests[place].id == known.confirm_test]
    return max(
        listed or found,
        key=lambda place: (weighed.saves(place), -float(weighed.layout.minutes[place])),
        default=None,
    )


def before_buying(weighed: Weighed, mend: Mend) -> int | None:
    """A test cheaper than the part that would confirm it first; None where nothing need or can be."""
    if mend.safety or mend.part <= 0.0 or confirmed(weighed, mend):
        return None
    minutes = weighed.layout.minutes.tolist()
    cheaper = [place for place in weighed.open if minutes[place] < mend.part]
    return best_prover(weighed, mend, cheaper)


def _speaking_for(weighed: Weighed, mend: Mend) -> set[str]:
    """Tests done with the fault present whose outcome is clearly likelier under one of the causes."""
    beliefs = weighed.posterior.columns.beliefs
    columns = [beliefs.cause_at[cause] for cause in mend.cures if cause in beliefs.cause_at]
    found = set()
    for done in later_tests(weighed.question.complaint.tests):
        if columns and done.fault_present and beliefs.knows(done.test, done.outcome):
            row = beliefs.row(done.test, done.outcome)
            if row[columns].max() >= PROOF_RATIO * row[-1]:
                found.add(done.test)
    return found
