"""Match weights from a shop's own closed cases, drawn towards the shipped ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression

from baylore_kb.features import compare
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, TestDone
from baylore_kb.weights import SHIPPED, MatchWeights

Floats = npt.NDArray[np.float64]

# Below this many closed cases the shipped weights are better (methods of case-based ranking, own measure).
FEWEST_CASES = 50
_SHIPPED_IS_WORTH = 50
_CANDIDATES = 60


def fit(snapshot: Snapshot, *, shipped: MatchWeights = SHIPPED, most_cases: int = 2000) -> MatchWeights:
    """Weights for this shop by L2 logistic regression on leave-one-case-out pairs.

    Each closed case is asked of the others; a pair is good when the confirmed cause is the same.
    Negative weights become 0, then w = (n * learned + 50 * shipped) / (n + 50) with n closed cases.
    Fewer than 50 closed cases, or pairs of one kind only, give `shipped` unchanged.
    """
    closed = [case for _, case in sorted(snapshot.cases.items()) if case.state == "closed" and case.cause]
    closed = closed[:: max(1, len(closed) // most_cases)]
    if len(closed) < FEWEST_CASES:
        return shipped
    rows, same = pairs(snapshot, closed)
    if len(set(same.tolist())) < 2:
        return shipped
    model = LogisticRegression(C=1.0, max_iter=500).fit(rows, same)
    return _shrunk(float(model.intercept_[0]), np.maximum(model.coef_[0], 0.0), shipped, cases=len(closed))


def pairs(snapshot: Snapshot, asked: list[Case]) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Feature rows and whether the cause is the same, for each asked case against its candidates.

    A case is asked without itself and without the visits it came back from or as.
    """
    rows: list[tuple[float, ...]] = []
    same: list[bool] = []
    for place, case in enumerate(asked):
        question = understand(_as_asked(case, with_tests=place % 2 == 0), snapshot)
        leave_out = frozenset({case.id, *case.returned_as, *([case.comeback_of] if case.comeback_of else [])})
        candidates = snapshot.candidates(question, limit=_CANDIDATES, leave_out=leave_out)
        for shared in compare(question, [each for each in candidates if each.case.cause], snapshot):
            rows.append(shared.features.row())
            same.append(shared.candidate.case.cause == case.cause)
    return np.asarray(rows), np.asarray(same, dtype=np.bool_)


def _as_asked(case: Case, *, with_tests: bool) -> Complaint:
    """The complaint as it stood before the cause was known; every other one already with tests done."""
    before = tuple(reading for reading in case.complaint.readings if reading.when == "before")
    tests = tuple(_kept(case)) if with_tests else ()
    return replace(case.complaint, readings=before, tests=tests, parts=())


def _kept(case: Case) -> Iterator[TestDone]:
    """The tests that came before the confirming one, which would give the answer away."""
    for done in case.complaint.tests:
        if done.test == case.confirmed_by:
            return
        yield done


def _shrunk(bias: float, learned: Floats, shipped: MatchWeights, *, cases: int) -> MatchWeights:
    share = cases / (cases + _SHIPPED_IS_WORTH)
    weights = share * learned + (1.0 - share) * np.asarray(shipped.weights)
    return MatchWeights(
        share * bias + (1.0 - share) * shipped.bias,
        tuple(float(weight) for weight in weights),
        f"fitted-{cases}",
        cases,
    )
