"""Looking two steps ahead over tests and repairs, with a real plan's cost as what follows.

Source: Heckerman, Breese & Rommelse 1995 (one step); the second step pays where two tests only help together
or share a set-up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.plan.orders import repair_only
from baylore_kb.plan.problem import STAYS, Choice, Floats, Ints, Problem


@dataclass(frozen=True, slots=True)
class Outlook:
    """What two steps show, all in expected minutes.

    `stop`: nothing more is tested. `alone` (T): this one test, then no more. `without` (T): the best that
    can be done if the test did not exist. `seen` (T, O): chance of each outcome, `then` (T, O, C): the causes
    after it (zeros where it cannot be seen).
    """

    choice: Choice
    stop: float
    alone: Floats
    without: Floats
    seen: Floats
    then: Floats

    @property
    def saves(self) -> Floats:
        """(T) what the test saves: alone against stopping, or in the best plan against doing without it."""
        return np.maximum(self.stop - self.alone, self.without - self.choice.by_test)


def look_ahead(problem: Problem) -> Outlook:
    """Cost of each first action when the best of one more test, or no test, follows it."""
    first = _after_each(problem, problem.p[None, :])
    seen, then = first.seen[0], first.then[0]
    rows = np.vstack([then.reshape(-1, len(problem.p)), _after_failures(problem)])
    places = _places(problem)
    leaf = repair_only(rows, problem, places=[int(place) for place in places])
    second = _second_tests(problem, rows, places)
    stop = float(repair_only(problem.p[None, :], problem)[0])
    return _outlook(problem, _Tree(seen, then, leaf, second, stop))


@dataclass(frozen=True, slots=True)
class _After:
    seen: Floats
    then: Floats


def _after_each(problem: Problem, rows: Floats) -> _After:
    """For rows of chances (N, C): outcome chances (N, T, O) and the causes after them (N, T, O, C)."""
    joint = rows[:, None, None, :] * problem.lik[None]
    seen = joint.sum(axis=-1)
    return _After(seen, joint / np.maximum(seen, 1e-300)[..., None])


def _after_failures(problem: Problem) -> Floats:
    """(A, C): the causes once each repair did not cure; zeros where it always does."""
    left = problem.p * (1.0 - problem.cures)
    mass = left.sum(axis=1, keepdims=True)
    return np.asarray(np.where(mass > 1e-12, left / np.maximum(mass, 1e-300), 0.0))


def _places(problem: Problem) -> Ints:
    """(T * O + A): where the car is after each first action, in the order of the rows."""
    goes = np.where(problem.goes_to == STAYS, problem.place, problem.goes_to)
    tests = np.repeat(goes[problem.repairs :], problem.lik.shape[1])
    return np.concatenate([tests, goes[: problem.repairs]])


def _second_tests(problem: Problem, rows: Floats, places: Ints) -> Floats:
    """(rows, T): minutes of one test more from each row and then no more; infinite for a test done before."""
    tests, width = problem.lik.shape[:2]
    after = _after_each(problem, rows)
    moved = np.where(
        problem.goes_to[problem.repairs :] == STAYS, places[:, None], problem.goes_to[problem.repairs :]
    )
    follow = repair_only(
        after.then.reshape(-1, rows.shape[1]), problem, places=np.repeat(moved.ravel(), width).tolist()
    ).reshape(after.seen.shape)
    follow = np.where(after.seen > 1e-12, follow, 0.0)
    minutes = problem.test_cost + problem.setup[places][:, problem.repairs :]
    cost = minutes * rows.sum(axis=1, keepdims=True) + (after.seen * follow).sum(axis=-1)
    done = np.arange(len(rows))[:, None] // width == np.arange(tests)
    return np.asarray(np.where(done, np.inf, cost))


@dataclass(frozen=True, slots=True)
class _Tree:
    seen: Floats
    then: Floats
    leaf: Floats
    second: Floats
    stop: float


def _outlook(problem: Problem, tree: _Tree) -> Outlook:
    repairs, refer = problem.repairs, float(problem.referring(problem.p))
    best = np.minimum(tree.leaf, tree.second.min(axis=1, initial=np.inf))
    by_test, by_repair = _first_tests(problem, tree, best), _first_repairs(problem, best[-repairs:])
    alone = _first_tests(problem, tree, tree.leaf)
    without = _without_each(problem, tree)
    return Outlook(Choice(by_test, by_repair, refer), tree.stop, alone, without, tree.seen, tree.then)


def _first_tests(problem: Problem, tree: _Tree, follow: Floats) -> Floats:
    """(T) minutes of each test and what follows its outcomes; `follow` is by row."""
    tests, width = problem.lik.shape[:2]
    after = follow[: tests * width].reshape(tests, width)
    minutes = problem.test_cost + problem.setup[problem.place, problem.repairs :]
    return np.asarray(minutes + np.where(tree.seen > 1e-12, tree.seen * after, 0.0).sum(axis=1))


def _first_repairs(problem: Problem, follow: Floats) -> Floats:
    """(A) minutes of each repair and of going on where it does not cure."""
    left = 1.0 - problem.cures @ problem.p
    minutes = problem.repair_cost + problem.setup[problem.place, : problem.repairs]
    return np.asarray(minutes + np.where(left > 1e-12, left * follow[: problem.repairs], 0.0))


def _without_each(problem: Problem, tree: _Tree) -> Floats:
    """(T) the best first action's minutes with one test taken out of the shop."""
    tests = problem.tests
    costs = np.full(tests, min(tree.stop, float(problem.referring(problem.p))))
    for missing in range(tests):
        others = np.delete(tree.second, missing, axis=1).min(axis=1, initial=np.inf)
        best = np.minimum(tree.leaf, others)
        firsts = np.delete(_first_tests(problem, tree, best), missing)
        repairs = _first_repairs(problem, best[len(best) - problem.repairs :])
        costs[missing] = min([costs[missing], *firsts, *repairs])
    return costs
