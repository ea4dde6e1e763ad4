"""Match weights from a shop's own closed cases, drawn towards the shipped ones."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from scipy.optimize import minimize
from scipy.special import expit

from baylore_kb.features import NAMES
from baylore_kb.heldout import Asked, asked_of_others, held_out
from baylore_kb.index import Snapshot
from baylore_kb.weights import SHIPPED, MatchWeights

Floats = npt.NDArray[np.float64]

# Below this many closed cases the shipped weights are better (methods of case-based ranking, own measure).
FEWEST_CASES = 50
_SHIPPED_IS_WORTH = 50
_CANDIDATES = 60
_BIAS_DRAWN = 0.01


def fit(snapshot: Snapshot, *, shipped: MatchWeights = SHIPPED, most_cases: int = 2000) -> MatchWeights:
    """Weights for this shop by logistic regression on leave-one-case-out pairs.

    Fewer than 50 closed cases, or pairs of one kind only, give `shipped` unchanged.
    """
    closed = held_out(snapshot, most_cases)
    if len(closed) < FEWEST_CASES:
        return shipped
    return fitted(list(asked_of_others(snapshot, closed)), shipped=shipped)


def fitted(asked: list[Asked], *, shipped: MatchWeights = SHIPPED) -> MatchWeights:
    """Weights from closed cases asked of the others; a pair is good when the confirmed cause is the same.

    The learned ones are `learned`, then w = (n * learned + 50 * shipped) / (n + 50) with n cases. Pairs of
    one kind only give `shipped` unchanged.
    """
    rows, same = pairs(asked)
    if len(set(same.tolist())) < 2:
        return shipped
    return _shrunk(learned(rows, same, shipped=shipped), shipped, cases=len(asked))


def learned(rows: Floats, same: npt.NDArray[np.bool_], *, shipped: MatchWeights = SHIPPED) -> Floats:
    """Bias and weights of a logistic regression, none of the weights below 0, drawn towards the shipped ones.

    The prior is a normal one around `shipped` (standard deviation 1 for a weight, 10 for the bias), so that
    what these pairs say nothing of, such as codes where no case has one, stays as shipped. As no step of
    nearness is below 0, a nearer car never counts less.
    """
    design = np.column_stack((np.ones(len(rows)), rows))
    start = np.array([shipped.bias, *shipped.weights])
    drawn = np.array([_BIAS_DRAWN, *np.ones(len(shipped.weights))])
    sign = np.where(same, 1.0, -1.0)

    def loss(weights: Floats) -> tuple[float, Floats]:
        right = sign * (design @ weights)
        off = weights - start
        slope = drawn * off - design.T @ (sign * expit(-right))
        return float(np.logaddexp(0.0, -right).sum() + 0.5 * (drawn * off**2).sum()), slope

    bounds = [(None, None), *((0.0, None) for _ in shipped.weights)]
    return np.asarray(minimize(loss, start, jac=True, method="L-BFGS-B", bounds=bounds).x)


def pairs(asked: Iterable[Asked]) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Feature rows and whether the cause is the same, for each asked case against its first 60 candidates."""
    rows: list[Floats] = []
    same: list[bool] = []
    for each in asked:
        rows.append(each.compared.rows[:_CANDIDATES])
        same.extend(one.case.cause == each.case.cause for one in each.compared.candidates[:_CANDIDATES])
    return np.concatenate([np.zeros((0, len(NAMES))), *rows]), np.asarray(same, dtype=np.bool_)


def _shrunk(found: Floats, shipped: MatchWeights, *, cases: int) -> MatchWeights:
    share = cases / (cases + _SHIPPED_IS_WORTH)
    bias, *weights = share * found + (1.0 - share) * np.array([shipped.bias, *shipped.weights])
    return MatchWeights(float(bias), tuple(map(float, weights)), f"fitted-{cases}", cases)
