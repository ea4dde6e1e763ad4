"""Looking a step deeper after a first act, compiled; importing it needs numba. `deeper` says what it is."""

from __future__ import annotations

import numpy as np

from baylore_kb.plan.problem import Floats, Problem
from baylore_kb.plan.quick import SLACK, of_row, one_test, over_floor, seen_of
from baylore_kb.plan.quick_ahead import Here, mass_of, place_after, start_of, write_failed
from baylore_kb.plan.quick_ground import Ground, at_cost, steps

_SEEN_AT_LEAST = 1e-9


@steps
def _choose(p, here, most, on):
    """Write at most so many tests to `on.chosen`, those that cost least by themselves, the cheapest first,
    not the one spent; how many they are."""
    chosen, cost = on.chosen, on.cost
    count = 0
    for t in range(len(cost)):
        if t == here.test:
            continue
        limit = np.inf if count < most else cost[chosen[most - 1]]
        cost[t] = one_test(p, (t, start_of(t, here.place, on)), limit, on)
        if count == most and cost[t] >= limit:
            continue
        n = min(count, most - 1)
        while n > 0 and cost[chosen[n - 1]] > cost[t]:
            chosen[n] = chosen[n - 1]
            n -= 1
        chosen[n] = t
        count = min(count + 1, most)
    return count


@steps
def _from_here(row, here, options, on):
    """Minutes times the row's sum of the best of one more test and none, from a place, one test done.
    `options` are how many chosen tests there are, and the minutes from which on it does not matter."""
    count, most = options
    best = of_row(row, on.repairs, on.work)
    mass, sure = mass_of(row)
    for n in range(0 if sure else count):
        t = on.chosen[n]
        if t != here.test:
            start = mass * start_of(t, here.place, on)
            best = min(best, one_test(row, (t, start), min(best, most), on))
    return best


@steps
def _by_test(p, here, choice, on):
    """Minutes of a test and the best of one more test and none after it. `choice` is the test, how many are
    looked at, and the minutes from which on it does not matter: then infinite."""
    t, count, most = choice
    row, then = on.rows[1], Here(place_after(len(on.repairs.minutes) + t, here.place, on), t)
    cost = start_of(t, here.place, on) + at_cost(p, on.tests.least[t])
    for o in range(on.tests.doubtful[t]):
        if cost > most * SLACK:
            return np.inf
        seen_of(p, on.tests.lik[t, on.tests.order[t, o]], row)
        cost -= at_cost(row, on.repairs.floor)
        cost += _from_here(row, then, (count, most - cost), on)
    return cost


@steps
def _by_repair(p, here, choice, on):
    """Minutes of a repair and of the best of one more test and none where it does not cure; as `_by_test`."""
    a, count, most = choice
    row, then = on.rows[1], Here(place_after(a, here.place, on), -1)
    write_failed(p, a, on, row)
    cost = on.repairs.minutes[a] + on.tests.setup[here.place, a]
    if cost + at_cost(row, on.repairs.floor) > most * SLACK:
        return np.inf
    return cost + _from_here(row, then, (count, most - cost), on)


@steps
def _least(p, here, limits, on):
    """Minutes of the best first act, one more test looked ahead over after it. `limits` are the most tests
    looked at, and the minutes from which on it does not matter."""
    most_tests, most = limits
    count = _choose(p, here, most_tests, on)
    if count > 0:
        # what follows a test only lowers what it costs alone
        most = min(most, on.cost[on.chosen[0]])
    least = at_cost(p, on.repairs.fallback)
    for n in range(count):
        least = min(least, _by_test(p, here, (on.chosen[n], count, min(least, most)), on))
    for a in range(len(on.repairs.minutes)):
        least = min(least, _by_repair(p, here, (a, count, min(least, most)), on))
    return least


@steps
def _test_deeper(p, act, limits, on):
    """`act` is the test and the place of the car, `limits` the most tests looked at and the most minutes."""
    t, place = act
    most_tests, most = limits
    row, then = on.rows[2], Here(place_after(len(on.repairs.minutes) + t, place, on), t)
    cost = start_of(t, place, on) + at_cost(p, on.tests.least[t])
    for o in range(on.tests.doubtful[t]):
        if cost >= most:
            return most
        seen = seen_of(p, on.tests.lik[t, on.tests.order[t, o]], row)
        if mass_of(row)[1]:
            cost += over_floor(row, np.inf, on.repairs, on.work)
        elif seen > _SEEN_AT_LEAST:
            cost -= at_cost(row, on.repairs.floor)
            for c in range(len(p)):
                row[c] /= seen
            cost += seen * _least(row, then, (most_tests, (most - cost) / seen), on)
    return cost


@steps
def _repair_deeper(p, act, limits, on):
    """As `_test_deeper`, of a repair; each cause is cured by it surely or not at all."""
    a, place = act
    most_tests, most = limits
    row = on.rows[2]
    write_failed(p, a, on, row)
    cost, left = on.repairs.minutes[a] + on.tests.setup[place, a], mass_of(row)[0]
    if left <= _SEEN_AT_LEAST:
        return cost
    for c in range(len(p)):
        row[c] /= left
    return cost + left * _least(
        row, Here(place_after(a, place, on), -1), (most_tests, (most - cost) / left), on
    )


def least(p: Floats, place: int, most_tests: int, on: Ground) -> float:
    """Expected minutes of the best first act with one more test looked ahead after it, over at most
    `most_tests` tests, those that cost least by themselves: as `ahead.choice_ahead` has it.
    """
    return float(_least(np.ascontiguousarray(p), Here(place, -1), (most_tests, np.inf), on))


def deeper_after_test(problem: Problem, test: int, limits: tuple[int, float], on: Ground) -> float:
    """Expected minutes of a test with `least` after each outcome; `limits` are the most tests of `least` and
    the minutes from which on it does not matter, which then come back.
    """
    p = np.ascontiguousarray(problem.p)
    return float(_test_deeper(p, (test, problem.place), limits, on))


def deeper_after_repair(problem: Problem, repair: int, limits: tuple[int, float], on: Ground) -> float:
    """Expected minutes of a repair with `least` where it does not cure; as `deeper_after_test`."""
    p = np.ascontiguousarray(problem.p)
    return float(_repair_deeper(p, (repair, problem.place), limits, on))
