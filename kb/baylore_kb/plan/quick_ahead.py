"""Looking ahead over tests, compiled; importing it needs numba. `ahead` and `deeper` say what it is."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from baylore_kb.plan.problem import Floats, Problem
from baylore_kb.plan.quick import SLACK, of_row, one_test, over_floor, seen_of
from baylore_kb.plan.quick_ground import Ground, at_cost, steps

_SURE, _SEEN_AT_LEAST = 1.0 - 1e-9, 1e-9


class Ahead(NamedTuple):
    """Minutes of each test first (T), of it alone (T), of the best act if it did not exist (T), and of each
    repair first (A); in `more` (T + 1, T + A) what each act costs more if a test did not exist."""

    by_test: Floats
    alone: Floats
    without: Floats
    by_repair: Floats
    more: Floats


class _Here(NamedTuple):
    """The place of the car, and the test that is spent (-1: none)."""

    place: int
    test: int


@steps
def _mass(row):
    """The sum of a row's chances, and whether one cause has all of it."""
    mass = 0.0
    most = 0.0
    for c in range(len(row)):
        mass += row[c]
        most = max(most, row[c])
    return mass, most >= _SURE * mass


@steps
def _start(t, place, on):
    """Minutes of a test from a place, whatever it shows."""
    return on.tests.minutes[t] + on.tests.setup[place, len(on.repairs.minutes) + t]


@steps
def _there(act, place, on):
    """Where the car is after an act, the repairs first and then the tests."""
    return place if on.tests.goes[act] < 0 else on.tests.goes[act]


@steps
def _failed(p, a, on, row):
    """Write the causes together with a repair that did not cure."""
    for c in range(len(p)):
        row[c] = p[c] * (1.0 - on.repairs.rate[c]) if on.repairs.whose[c] == a else p[c]


@steps
def _stop_or_test(row, here, on):
    """Minutes times the row's sum: of stopping, of the best of that and one more test, and of the best
    without that test; and which test that is (-1: none)."""
    stop = of_row(row, on.repairs, on.work)
    mass, sure = _mass(row)
    least = stop
    without = stop
    which = -1
    for t in range(0 if sure else len(on.cost)):
        if t == here.test:
            continue
        cost = one_test(row, (t, mass * _start(t, here.place, on)), without, on)
        if cost < least:
            without = least
            least = cost
            which = t
        elif cost < without:
            without = cost
    return stop, least, without, which


@steps
def _look_ahead(p, place, on, found):
    tests, repairs, row = len(on.cost), on.repairs, on.rows[1]
    for t in range(tests):
        then = _Here(_there(len(repairs.minutes) + t, place, on), t)
        found.alone[t] = _start(t, place, on) + at_cost(p, on.tests.least[t])
        found.by_test[t] = found.alone[t]
        for o in range(on.tests.doubtful[t]):
            seen_of(p, on.tests.lik[t, on.tests.order[t, o]], row)
            floor = at_cost(row, repairs.floor)
            stop, least, without, which = _stop_or_test(row, then, on)
            found.alone[t] += stop - floor
            found.by_test[t] += least - floor
            found.more[which, t] += without - least
    for a in range(len(repairs.minutes)):
        _failed(p, a, on, row)
        _, least, without, which = _stop_or_test(row, _Here(_there(a, place, on), -1), on)
        found.by_repair[a] = repairs.minutes[a] + on.tests.setup[place, a] + least
        found.more[which, tests + a] += without - least
    stop = of_row(p, repairs, on.work)
    for k in range(tests):
        found.without[k] = stop
        for t in range(tests):
            if t != k:
                found.without[k] = min(found.without[k], found.by_test[t] + found.more[k, t])
        for a in range(len(repairs.minutes)):
            found.without[k] = min(found.without[k], found.by_repair[a] + found.more[k, tests + a])
    return stop


@steps
def _cheapest(p, place, most, on):
    least = np.inf
    for t in range(len(on.cost)):
        least = min(least, one_test(p, (t, _start(t, place, on)), min(least, most), on))
    return least


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
        cost[t] = one_test(p, (t, _start(t, here.place, on)), limit, on)
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
    mass, sure = _mass(row)
    for n in range(0 if sure else count):
        t = on.chosen[n]
        if t != here.test:
            start = mass * _start(t, here.place, on)
            best = min(best, one_test(row, (t, start), min(best, most), on))
    return best


@steps
def _by_test(p, here, choice, on):
    """Minutes of a test and the best of one more test and none after it. `choice` is the test, how many are
    looked at, and the minutes from which on it does not matter: then infinite."""
    t, count, most = choice
    row, then = on.rows[1], _Here(_there(len(on.repairs.minutes) + t, here.place, on), t)
    cost = _start(t, here.place, on) + at_cost(p, on.tests.least[t])
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
    row, then = on.rows[1], _Here(_there(a, here.place, on), -1)
    _failed(p, a, on, row)
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
    row, then = on.rows[2], _Here(_there(len(on.repairs.minutes) + t, place, on), t)
    cost = _start(t, place, on) + at_cost(p, on.tests.least[t])
    for o in range(on.tests.doubtful[t]):
        if cost >= most:
            return most
        seen = seen_of(p, on.tests.lik[t, on.tests.order[t, o]], row)
        if _mass(row)[1]:
            cost += over_floor(row, np.inf, on.repairs, on.work)
        elif seen > _SEEN_AT_LEAST:
            cost -= at_cost(row, on.repairs.floor)
            for c in range(len(p)):
                row[c] /= seen
            cost += seen * _least(row, then, (most_tests, (most - cost) / seen), on)
    return cost


def cheapest_test(p: Floats, place: int, most: float, on: Ground) -> float:
    """Minutes of the test that costs least with the best repairs after it; infinite from `most` on."""
    return float(_cheapest(np.ascontiguousarray(p), place, most, on))


def look_ahead(p: Floats, place: int, on: Ground) -> tuple[float, Ahead]:
    """Minutes without any test, and those of each first act when one more test, or none, follows."""
    tests, repairs = len(on.cost), len(on.repairs.minutes)
    by_test, alone, without = np.empty((3, tests))
    # the last row is for "no test"
    more = np.zeros((tests + 1, tests + repairs))
    found = Ahead(by_test, alone, without, np.empty(repairs), more)
    return float(_look_ahead(np.ascontiguousarray(p), place, on, found)), found


def least(p: Floats, place: int, most_tests: int, on: Ground) -> float:
    """Expected minutes of the best first act with one more test looked ahead after it, over at most
    `most_tests` tests, those that cost least by themselves: as `ahead.choice_ahead` has it.
    """
    return float(_least(np.ascontiguousarray(p), _Here(place, -1), (most_tests, np.inf), on))


def deeper_after_test(problem: Problem, test: int, limits: tuple[int, float], on: Ground) -> float:
    """Expected minutes of a test with `least` after each outcome; `limits` are the most tests of `least` and
    the minutes from which on it does not matter, which then come back.
    """
    p = np.ascontiguousarray(problem.p)
    return float(_test_deeper(p, (test, problem.place), limits, on))
