"""A planning problem made ready for compiled steps; importing it needs numba."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit

from baylore_kb.plan.problem import Floats, Ints, Problem

# All arrays are made outside the steps and outlive them: to count who uses them took longer than the steps.
_AS: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy", "_nrt": False}
steps = njit(**_AS)
# For the innermost steps, where to hand over what they need took longer than the work.
inner_steps = njit(inline="always", **_AS)


class Mending(NamedTuple):
    """Whose repair cures each cause (C, -1 nobody's) and how surely (C), minutes of the repairs (A) and of
    giving away (C), and the least minutes a cause can cost once known (C)."""

    whose: Ints
    rate: Floats
    minutes: Floats
    fallback: Floats
    floor: Floats


class Testing(NamedTuple):
    """Minutes (T), chances (T, O, C), set-ups (K, A + T) and places (A + T) of the tests.

    `order` (T, O): the outcomes that leave several causes open, `doubtful` (T) of them, the likeliest first.
    `least` (T, C): minutes after the test of each cause, if it were known after those outcomes too.
    """

    minutes: Floats
    lik: Floats
    setup: Floats
    goes: Ints
    doubtful: Ints
    order: Ints
    least: Floats


class Ground(NamedTuple):
    """Tests and repairs of a problem, and room for working in: (3, C), (4, A), (T), (T)."""

    tests: Testing
    repairs: Mending
    rows: Floats
    work: Floats
    cost: Floats
    chosen: Ints


def ground(problem: Problem) -> Ground:
    """A problem made ready for compiled steps."""
    causes, tests = len(problem.p), problem.tests
    repairs = mending(problem)
    room = np.empty((3, causes)), np.empty((4, problem.repairs)), np.empty(tests), np.empty(tests, np.intp)
    return Ground(testing(problem, repairs), repairs, *room)


def mending(problem: Problem) -> Mending:
    """What the compiled steps need of the repairs; each cause may be cured by one of them."""
    cures = problem.cures
    rate, whose = cures.max(axis=0), cures.argmax(axis=0)
    whose[rate == 0.0] = -1
    minutes, fallback = map(np.ascontiguousarray, (problem.repair_cost, problem.fallback))
    floor = np.where(rate > 0.0, np.minimum(fallback, minutes[whose] + (1.0 - rate) * fallback), fallback)
    return Mending(whose, rate, minutes, fallback, floor)


def testing(problem: Problem, repairs: Mending) -> Testing:
    """What the compiled steps need of the tests."""
    tests, width, causes = problem.lik.shape
    lik, p = map(np.ascontiguousarray, (problem.lik, problem.p))
    found = np.zeros(tests, np.intp), np.empty((tests, width), np.intp), np.zeros((tests, causes))
    _sort_outcomes((lik, np.empty(width)), p, repairs.floor, found)
    minutes, setup = map(np.ascontiguousarray, (problem.test_cost, problem.setup))
    return Testing(minutes, lik, setup, problem.goes_to, *found)


@steps
def at_cost(row, minutes):
    """The minutes of each cause by its chance."""
    cost = 0.0
    for c in range(len(row)):
        cost += row[c] * minutes[c]
    return cost


@steps
def _sort_outcomes(given, p, floor, found):
    lik, mass = given
    doubtful, order, least = found
    for t in range(len(lik)):
        for o in range(len(mass)):
            causes = 0
            for c in range(len(p)):
                if lik[t, o, c] > 0.0:
                    causes += 1
                    least[t, c] += lik[t, o, c] * floor[c]
            if causes > 1:
                mass[o] = at_cost(p, lik[t, o])
                n = doubtful[t]
                while n > 0 and mass[order[t, n - 1]] < mass[o]:
                    order[t, n] = order[t, n - 1]
                    n -= 1
                order[t, n] = o
                doubtful[t] += 1
