"""What a shop's own closed cases teach the engine: match weights, and how sure to sound."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from baylore_kb.advice import COMPARED, SHIPPED_TUNING, Tuning
from baylore_kb.causes import posterior
from baylore_kb.causes.pool import Floats, at_temperature
from baylore_kb.index import Snapshot
from baylore_kb.match import MatchWeights, fit, matches
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint

FEWEST_CASES = 50
MOST_ASKED = 300
TEMPERATURES = np.geomspace(0.5, 2.0, 25)
# Cases that pull the temperature away from 1 by themselves.
PRIOR_CASES = 50.0


def tune(snapshot: Snapshot, *, most_asked: int = MOST_ASKED) -> Tuning:
    """Weights and temperature for this shop, by asking its closed cases of the others.

    Fewer than 50 closed cases give the shipped tuning. The temperature is the one with the least log loss
    over at most `most_asked` held-out cases, drawn towards 1. Source: Guo et al. 2017.
    """
    closed = held_out(snapshot, most_asked)
    if len(closed) < FEWEST_CASES:
        return SHIPPED_TUNING
    weights = fit(snapshot)
    chances = [
        _chances(case, snapshot, weights, with_tests=place % 2 == 0) for place, case in enumerate(closed)
    ]
    losses = [sum(_loss(row, truth, float(t)) for row, truth in chances) for t in TEMPERATURES]
    best = float(np.log(TEMPERATURES[int(np.argmin(losses))]))
    share = len(closed) / (len(closed) + PRIOR_CASES)
    return Tuning(weights=weights, temperature=float(np.exp(share * best)))


def held_out(snapshot: Snapshot, most: int) -> list[Case]:
    """At most `most` closed cases with a cause, spread evenly over all of them, by id."""
    closed = [case for _, case in sorted(snapshot.cases.items()) if case.state == "closed" and case.cause]
    return closed[:: max(1, -(-len(closed) // most))]


def as_asked(case: Case, *, with_tests: bool) -> Complaint:
    """The complaint as it stood before the cause was known: without what confirmed it and what was fitted.

    `with_tests` keeps the tests and readings that came before the confirming test.
    """
    bare = replace(case.complaint, tests=(), readings=(), parts=(), minutes_spent=0.0)
    if not with_tests:
        return bare
    before = tuple(reading for reading in case.complaint.readings if reading.when == "before")
    named = [test.test for test in case.complaint.tests]
    end = named.index(case.confirmed_by) if case.confirmed_by in named else len(named)
    return replace(bare, tests=case.complaint.tests[:end], readings=before)


def same_job(case: Case, snapshot: Snapshot) -> frozenset[str]:
    """The case, the visits it is linked to, and all visits of the same car where its VIN is known."""
    linked = {case.id, *case.returned_as, *([case.comeback_of] if case.comeback_of else [])}
    vin = case.complaint.vehicle.vin
    if vin:
        linked |= {other.id for other in snapshot.cases.values() if other.complaint.vehicle.vin == vin}
    return frozenset(linked)


def _chances(
    case: Case, snapshot: Snapshot, weights: MatchWeights, *, with_tests: bool
) -> tuple[Floats, int]:
    """The chances of all causes and the unlisted one (last), and the place of the truth."""
    question = understand(as_asked(case, with_tests=with_tests), snapshot)
    hidden = same_job(case, snapshot)
    found = snapshot.candidates(question, limit=COMPARED, leave_out=hidden)
    tally = snapshot.tally.changed(removed=_known(hidden, snapshot))
    answer = posterior(question, matches(question, found, snapshot, weights=weights), snapshot, tally=tally)
    chances = np.array([*(row.probability for row in answer.causes), answer.unlisted])
    causes = [row.cause for row in answer.causes]
    return chances, causes.index(case.cause) if case.cause in causes else len(causes)


def _known(ids: frozenset[str], snapshot: Snapshot) -> Iterator[Case]:
    return (snapshot.cases[id] for id in sorted(ids) if id in snapshot.cases)


def _loss(chances: Floats, truth: int, temperature: float) -> float:
    return float(-np.log(max(at_temperature(chances, temperature)[truth], 1e-9)))
