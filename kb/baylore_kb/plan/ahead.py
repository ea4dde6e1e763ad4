"""Looking two steps ahead over tests and repairs, with a real plan's cost as what follows.

Source: Heckerman, Breese & Rommelse 1995 (one step); the second step pays where two tests only help together
or share a set-up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.metrics import entropy
from baylore_kb.plan import compiled
from baylore_kb.plan.orders import repair_only
from baylore_kb.plan.problem import STAYS, Choice, Floats, Ints, Problem

# A cause this sure needs no second test: its cost is looked up.
SURE = 1.0 - 1e-9


@dataclass(frozen=True, slots=True)
class Outlook:
    """What two steps show, all in expected minutes.

    `stop`: nothing more is tested. `alone` (T): this one test, then no more. `without` (T): the best that
    can be done if the test did not exist.
    """

    choice: Choice
    stop: float
    alone: Floats
    without: Floats

    @property
    def saves(self) -> Floats:
        """(T) what the test saves: alone against stopping, or in the best plan against doing without it."""
        return np.maximum(self.stop - self.alone, self.without - self.choice.by_test)


@dataclass(frozen=True, slots=True)
class OneTest:
    """One test and then no more: expected minutes (T), and (T) the bits of doubt left about the cause."""

    cost: Floats
    doubt: Floats

    def bits(self, problem: Problem) -> Floats:
        """(T) how much each test is expected to tell about the causes, in bits."""
        return np.asarray(entropy(problem.p) - self.doubt)


def one_test(problem: Problem) -> OneTest:
    """Each test by itself, with the best repairs after it."""
    found = compiled.after_each_test(problem)
    if found is not None:
        minutes = problem.test_cost + problem.setup[problem.place, problem.repairs :]
        return OneTest(minutes + found[0], found[1])
    first = _after_each(problem, problem.p[None, :])
    seen, then = first.seen[0], first.then[0]
    places = _places(problem)[: seen.size]
    leaf = _no_more_tests(problem, then.reshape(-1, len(problem.p)), places)
    return OneTest(_first_tests(problem, seen, leaf), (seen * entropy(then)).sum(axis=1))


def cheapest_test(problem: Problem, *, most: float) -> float:
    """Minutes of the test that costs least by itself; perhaps infinite where none costs less than `most`."""
    found = compiled.cheapest_test(problem, most)
    return float(one_test(problem).cost.min(initial=np.inf)) if found is None else found


def look_ahead(problem: Problem) -> Outlook:
    """Cost of each first action when the best of one more test, or no test, follows it."""
    found = compiled.look_ahead(problem)
    if found is not None:
        stop, acts = found
        choice = Choice(acts.by_test, acts.by_repair, float(problem.referring(problem.p)))
        return Outlook(choice, stop, acts.alone, acts.without)
    tree = _tree(problem)
    alone = _first_tests(problem, tree.seen, tree.leaf)
    return Outlook(_choice(problem, tree), tree.stop, alone, _without_each(problem, tree))


def _tree(problem: Problem) -> _Tree:
    first = _after_each(problem, problem.p[None, :])
    seen, then = first.seen[0], first.then[0]
    rows = np.vstack([then.reshape(-1, len(problem.p)), _after_failures(problem)])
    places = _places(problem)
    leaf = _no_more_tests(problem, rows, places)
    second = _two_best(_every_second(problem, rows, places))
    stop = float(repair_only(problem.p[None, :], problem)[0])
    return _Tree(seen, leaf, second, stop)


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


@dataclass(frozen=True, slots=True)
class _Second:
    """One test more from each row and then no more: the least minutes, which test, the least without it."""

    least: Floats
    which: Ints
    without: Floats

    def lacking(self, tests: int) -> Floats:
        """(tests, rows) the least minutes without each test."""
        missing = np.arange(tests)[:, None] == self.which
        return np.where(missing, self.without, self.least)


def _two_best(cost: Floats) -> _Second:
    """From minutes (rows, T)."""
    rows = np.arange(len(cost))
    if not cost.shape[1]:
        never = np.full(len(cost), np.inf)
        return _Second(never, np.full(len(cost), -1), never)
    which = cost.argmin(axis=1)
    others = cost.copy()
    others[rows, which] = np.inf
    return _Second(cost[rows, which], which, others.min(axis=1))


def _every_second(problem: Problem, rows: Floats, places: Ints) -> Floats:
    """(rows, T): minutes of one test more from each row and then no more; infinite for a test done before."""
    tests, width = problem.lik.shape[:2]
    cost = np.full((len(rows), tests), np.inf)
    doubtful = np.flatnonzero((rows.max(axis=1) < SURE) & (rows.sum(axis=1) > 0.5))
    if doubtful.size and tests:
        minutes = problem.test_cost + problem.setup[places[doubtful]][:, problem.repairs :]
        cost[doubtful] = minutes + _after_one_more(problem, rows[doubtful], places[doubtful])
    cost[np.arange(len(rows))[:, None] // max(width, 1) == np.arange(tests)] = np.inf
    return cost


def _after_one_more(problem: Problem, rows: Floats, places: Ints) -> Floats:
    """(N, T): expected minutes of repairs after each test from each row of causes (N, C)."""
    test, outcome = np.nonzero(problem.lik.any(axis=2))
    joint = rows[:, None, :] * problem.lik[test, outcome]
    seen = joint.sum(axis=-1)
    joint /= np.maximum(seen, 1e-300)[..., None]
    goes = problem.goes_to[problem.repairs :]
    moved = np.where(goes == STAYS, places[:, None], goes)[:, test]
    follow = _no_more_tests(problem, joint.reshape(-1, rows.shape[1]), moved.ravel())
    firsts = np.flatnonzero(np.diff(test, prepend=-1))
    return np.asarray(np.add.reduceat(seen * follow.reshape(seen.shape), firsts, axis=1))


def _no_more_tests(problem: Problem, rows: Floats, places: Ints) -> Floats:
    """(N) the cost of the best repairs from each row; 0 for a row that cannot be."""
    sure = rows.max(axis=1) >= SURE
    cost = np.zeros(len(rows))
    if not problem.setup[:, : problem.repairs].any():
        cost[sure] = repair_only(np.eye(rows.shape[1]), problem)[rows[sure].argmax(axis=1)]
        doubtful = np.flatnonzero(~sure & (rows.sum(axis=1) > 0.5))
    else:
        doubtful = np.flatnonzero(rows.sum(axis=1) > 0.5)
    cost[doubtful] = repair_only(rows[doubtful], problem, places=places[doubtful].tolist())
    return cost


@dataclass(frozen=True, slots=True)
class _Tree:
    seen: Floats
    leaf: Floats
    second: _Second
    stop: float


def _choice(problem: Problem, tree: _Tree) -> Choice:
    best = np.minimum(tree.leaf, tree.second.least)
    by_test = _first_tests(problem, tree.seen, best)
    by_repair = _first_repairs(problem, best)
    return Choice(by_test, by_repair, float(problem.referring(problem.p)))


def _first_tests(problem: Problem, seen: Floats, follow: Floats) -> Floats:
    """(..., T) minutes of each test and what follows its outcomes; `follow` (..., rows)."""
    tests, width = problem.lik.shape[:2]
    after = follow[..., : tests * width].reshape(*follow.shape[:-1], tests, width)
    minutes = problem.test_cost + problem.setup[problem.place, problem.repairs :]
    return np.asarray(minutes + np.where(seen > 1e-12, seen * after, 0.0).sum(axis=-1))


def _first_repairs(problem: Problem, follow: Floats) -> Floats:
    """(..., A) minutes of each repair and of going on where it does not cure; `follow` (..., rows)."""
    left = 1.0 - problem.cures @ problem.p
    minutes = problem.repair_cost + problem.setup[problem.place, : problem.repairs]
    after = follow[..., follow.shape[-1] - problem.repairs :]
    return np.asarray(minutes + np.where(left > 1e-12, left * after, 0.0))


def _without_each(problem: Problem, tree: _Tree) -> Floats:
    """(T) the best first action's minutes with one test taken out of the shop."""
    best = np.minimum(tree.leaf, tree.second.lacking(problem.tests))
    firsts = _first_tests(problem, tree.seen, best)
    np.fill_diagonal(firsts, np.inf)
    repairs = _first_repairs(problem, best)
    otherwise = min(tree.stop, float(problem.referring(problem.p)))
    costs = np.concatenate([firsts, repairs], axis=1).min(axis=1, initial=np.inf)
    return np.asarray(np.minimum(costs, otherwise))
