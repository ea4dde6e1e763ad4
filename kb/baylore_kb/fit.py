"""Match weights from a shop's own closed cases, drawn towards the shipped ones."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression

from baylore_kb.heldout import Asked, asked_of_others, held_out
from baylore_kb.index import Snapshot
from baylore_kb.weights import SHIPPED, MatchWeights

Floats = npt.NDArray[np.float64]

# Below this many closed cases the shipped weights are better (methods of case-based ranking, own measure).
FEWEST_CASES = 50
_SHIPPED_IS_WORTH = 50
_CANDIDATES = 60


def fit(snapshot: Snapshot, *, shipped: MatchWeights = SHIPPED, most_cases: int = 2000) -> MatchWeights:
    """Weights for this shop by L2 logistic regression on leave-one-case-out pairs.

    Fewer than 50 closed cases, or pairs of one kind only, give `shipped` unchanged.
    """
    closed = held_out(snapshot, most_cases)
    if len(closed) < FEWEST_CASES:
        return shipped
    return fitted(list(asked_of_others(snapshot, closed)), shipped=shipped)


def fitted(asked: list[Asked], *, shipped: MatchWeights = SHIPPED) -> MatchWeights:
    """Weights from closed cases asked of the others; a pair is good when the confirmed cause is the same.

    Negative weights become 0, then w = (n * learned + 50 * shipped) / (n + 50) with n cases. Pairs of one
    kind only give `shipped` unchanged.
    """
    rows, same = pairs(asked)
    if len(set(same.tolist())) < 2:
        return shipped
    model = LogisticRegression(C=1.0, max_iter=500).fit(rows, same)
    return _shrunk(float(model.intercept_[0]), np.maximum(model.coef_[0], 0.0), shipped, cases=len(asked))


def pairs(asked: Iterable[Asked]) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Feature rows and whether the cause is the same, for each asked case against its first 60 candidates."""
    rows: list[tuple[float, ...]] = []
    same: list[bool] = []
    for each in asked:
        for shared in each.shared[:_CANDIDATES]:
            rows.append(shared.features.row())
            same.append(shared.candidate.case.cause == each.case.cause)
    return np.asarray(rows), np.asarray(same, dtype=np.bool_)


def _shrunk(bias: float, learned: Floats, shipped: MatchWeights, *, cases: int) -> MatchWeights:
    share = cases / (cases + _SHIPPED_IS_WORTH)
    weights = share * learned + (1.0 - share) * np.asarray(shipped.weights)
    return MatchWeights(
        share * bias + (1.0 - share) * shipped.bias,
        tuple(float(weight) for weight in weights),
        f"fitted-{cases}",
        cases,
    )
