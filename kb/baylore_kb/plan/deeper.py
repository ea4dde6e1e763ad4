"""A step deeper where the race is close: what follows the first acts is looked ahead over once more.

Each cost stays that of a plan that can be followed, so a deeper look only ever lowers it. On random
problems three steps come far nearer to the best plan than two (`tests/outside`).
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from baylore_kb.plan.ahead import SURE, look_ahead, one_test
from baylore_kb.plan.compiled import least_ahead, test_looked_ahead
from baylore_kb.plan.orders import repair_only
from baylore_kb.plan.problem import Choice, Floats, Problem

# So many first acts, and only those within this share of the least cost: others cannot win by a step more.
MOST_ACTS, CLOSE = 4, 0.05
# Tests looked ahead over after a first act, by what each costs alone.
MOST_TESTS = 5
SEEN_AT_LEAST = 1e-9


def deeper(problem: Problem, choice: Choice, *, most: int = MOST_ACTS) -> Choice:
    """The choice with the costs of its closest first acts worked out one step further."""
    by_test, by_repair = choice.by_test.copy(), choice.by_repair.copy()
    for kind, index in _close(choice, most):
        if kind == "test":
            by_test[index] = min(by_test[index], _test(problem, index, most=float(by_test[index])))
        else:
            by_repair[index] = min(by_repair[index], _repair(problem, index))
    return Choice(by_test, by_repair, choice.refer)


def _close(choice: Choice, most: int) -> Iterator[tuple[str, int]]:
    """The cheapest first acts, tests and repairs together."""
    costs: Floats = np.concatenate([choice.by_test, choice.by_repair])
    limit, tests = choice.best * (1.0 + CLOSE), len(choice.by_test)
    for place in np.argsort(costs, kind="stable")[:most].tolist():
        if costs[place] > limit:
            return
        yield ("test", place) if place < tests else ("repair", place - tests)


def _test(problem: Problem, test: int, *, most: float) -> float:
    """Minutes of the test with what follows looked ahead over; `most` or more where that is no better."""
    found = test_looked_ahead(problem, test, most_tests=MOST_TESTS, most=most)
    if found is not None:
        return found
    joint = problem.lik[test] * problem.p
    seen = joint.sum(axis=1)
    sure = (joint.max(axis=1) >= SURE * seen) & _still(problem)
    known = repair_only(joint[sure], problem).sum() if sure.any() else 0.0
    doubtful = np.flatnonzero(~sure & (seen > SEEN_AT_LEAST)).tolist()
    open_ends = sum(seen[k] * _best(problem.after_outcome(test, k)) for k in doubtful)
    return float(problem.test_cost[test] + problem.move(problem.repairs + test)[0] + known + open_ends)


def _still(problem: Problem) -> bool:
    """Whether no repair has a set-up, so that a known cause costs the same wherever the car stands."""
    return not problem.setup[:, : problem.repairs].any()


def _repair(problem: Problem, repair: int) -> float:
    spent = float(problem.repair_cost[repair] + problem.move(repair)[0])
    left = 1.0 - float(problem.cures[repair] @ problem.p)
    if left <= SEEN_AT_LEAST:
        return spent
    return spent + left * _best(problem.after_failed(repair))


def _best(problem: Problem) -> float:
    """The least cost that looking ahead over the most promising tests finds."""
    found = least_ahead(problem, MOST_TESTS)
    if found is not None:
        return found
    if problem.tests > MOST_TESTS:
        problem = problem.keep_tests(np.argsort(one_test(problem).cost, kind="stable")[:MOST_TESTS])
    return look_ahead(problem).choice.best
